// Where a maker's own f-hole may lie, and what the model takes of it.
#include "support/catch.hpp"
#include "trends/model/plate_form.hpp"

using namespace platewright;
using namespace platewright::trends;

namespace {

/// A slot so far off the middle line and the edge, at the waist of a violin.
ledger::FormRecord with_slot(double left_mm, double right_mm) {
    ledger::FormRecord form = usual_form(ledger::InstrumentRecord{});
    form.f_hole_rims = {{{left_mm, 160.0},
                         {right_mm, 160.0},
                         {right_mm, 170.0},
                         {right_mm, 180.0},
                         {right_mm, 190.0},
                         {left_mm, 190.0},
                         {left_mm, 180.0},
                         {left_mm, 170.0}}};
    return form;
}

bool is_refused(const ledger::FormRecord& form) {
    const auto fault = fault_in(form);
    const auto made = plate_form(form, modes::Part::top, modes::Stage::f_holes_cut);
    CHECK(static_cast<bool>(fault) == !made); // said with the shape, and by the model
    return fault && fault->what.find("2 mm or more off") != std::string::npos;
}

} // namespace

TEST_CASE("an f-hole that was drawn keeps two millimetres off the edge and the middle line") {
    const auto outline = *outline_of(usual_form(ledger::InstrumentRecord{}));
    double waist_mm = 1e9; // half of it, where the slot is
    for (double y = 160.0; y <= 190.0; y += 1.0)
        waist_mm = std::min(waist_mm, outline.extent(y).right_mm);
    CHECK_FALSE(is_refused(with_slot(30.0, 40.0)));
    CHECK_FALSE(is_refused(with_slot(2.6, 12.0)));
    CHECK(is_refused(with_slot(1.4, 12.0)));
    CHECK(is_refused(with_slot(-5.0, 12.0)));
    CHECK_FALSE(is_refused(with_slot(40.0, waist_mm - 2.6)));
    CHECK(is_refused(with_slot(40.0, waist_mm - 1.4)));
    CHECK(is_refused(with_slot(40.0, waist_mm + 5.0)));
}

TEST_CASE("a drawn f-hole counts before the eyes, on both sides, and a bar may not cross it") {
    ledger::FormRecord form = with_slot(30.0, 40.0);
    form.f_holes = plate::usual_f_hole(form.size);
    const auto made = plate_form(form, modes::Part::top, modes::Stage::f_holes_cut);
    REQUIRE(made);
    REQUIRE(made->f_holes.size() == 2);
    CHECK(made->f_holes[0] == form.f_hole_rims[0]);
    CHECK(plate::contains(made->f_holes[1], {-35.0, 175.0}));
    CHECK(plate_form(form, modes::Part::top, modes::Stage::graduated)->f_holes.empty());
    form.bar = plate::usual_bar(form.size);
    CHECK_FALSE(fault_in(form));
    form.bar->lower.x_mm = -60.0;
    form.bar->upper.x_mm = -10.0;
    CHECK(fault_in(form)->what.find("lies across an f-hole") != std::string::npos);
}
