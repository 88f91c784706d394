// What makes a plate's model stale: every field of what it is made from, one at a time.
#include "bench/model/plate_work.hpp"
#include "support/catch.hpp"
#include "trends/model/plate_form.hpp"

#include <functional>
#include <utility>
#include <vector>

using namespace platewright;
using bench::inputs_of;

namespace {

/// A top with all that can be said of it.
ledger::PlateHistory full_history() {
    ledger::PlateHistory history;
    history.instrument.id = 1;
    history.plate = {.id = 2, .instrument = 1, .part = modes::Part::top, .label = "Wren top"};
    history.plate.density_kg_m3 = 420.0;
    history.form = trends::usual_form(ledger::InstrumentRecord{});
    history.form->species = "norway_spruce";
    history.form->rim = {{0.0, 0.0}, {100.0, 90.0}, {-100.0, 90.0}};
    history.form->heights = {{{0.0, 180.0}, 15.0}};
    history.form->f_holes = plate::FHole{{40.0, 215.0}, {60.0, 160.0}};
    history.form->f_hole_rims = {{{40.0, 130.0}, {44.0, 160.0}, {40.0, 190.0}}};
    history.form->bar = plate::BassBar{{-20.0, 60.0}, {-15.0, 300.0}};
    history.wood = ledger::WoodHistory{};
    history.wood->wood.id = 3;
    ledger::WoodTest test;
    test.record.along_mm = 400.0;
    test.record.mass_g = 250.0;
    test.modes = {{ledger::WoodMotion::along, 210.0, 0.1, 80.0}};
    history.wood->tests = {test};
    for (int i = 0; i < 2; ++i) {
        ledger::SessionHistory one;
        one.session = {.id = 10 + i, .plate = 2, .begun = {1'700'000'000'000 + i * 86'400'000}};
        one.session.mass_g = 70.0 - i;
        one.session.temperature_c = 20.0;
        one.session.humidity_pct = 50.0;
        one.thickness.readings = {{{0.0, 100.0}, 3.0, "a"}, {{10.0, 200.0}, 3.2, "b"}};
        one.flex = {{1, 10 + i, ledger::FlexKind::twist, 300.0, 500.0, 1.2}};
        ledger::ModeRecord mode;
        mode.mode.frequency_hz = 340.0 - i;
        mode.mode.frequency_sd_hz = 0.2;
        mode.name = modes::ModeName{5, 0.99, false};
        one.modes = {mode};
        one.plan = ledger::PlanRecord{.session = 10 + i, .pass_share = 0.4, .wood_g = 3.0};
        history.sessions.push_back(std::move(one));
    }
    return history;
}

using Change = std::pair<const char*, std::function<void(ledger::PlateHistory&)>>;

template <class Field>
Change other(const char* what, Field field) {
    return {what, [field](ledger::PlateHistory& h) { field(h) += 1.0; }};
}

std::vector<Change> changes() {
    using H = ledger::PlateHistory;
    std::vector<Change> all{
        other("length", [](H& h) -> double& { return h.form->size.length_mm; }),
        other("upper width", [](H& h) -> double& { return h.form->size.upper_mm; }),
        other("waist", [](H& h) -> double& { return h.form->size.waist_mm; }),
        other("lower width", [](H& h) -> double& { return h.form->size.lower_mm; }),
        other("arch", [](H& h) -> double& { return h.form->arching.arch_mm; }),
        other("edge", [](H& h) -> double& { return h.form->arching.edge_mm; }),
        other("fullness along", [](H& h) -> double& { return h.form->arching.long_fullness; }),
        other("fullness across", [](H& h) -> double& { return h.form->arching.cross_fullness; }),
        other("a point of the rim", [](H& h) -> double& { return h.form->rim[1].x_mm; }),
        other("a height's place", [](H& h) -> double& { return h.form->heights[0].at.y_mm; }),
        other("a height", [](H& h) -> double& { return h.form->heights[0].height_mm; }),
        other("upper eye across", [](H& h) -> double& { return h.form->f_holes->upper.x_mm; }),
        other("upper eye along", [](H& h) -> double& { return h.form->f_holes->upper.y_mm; }),
        other("lower eye across", [](H& h) -> double& { return h.form->f_holes->lower.x_mm; }),
        other("lower eye along", [](H& h) -> double& { return h.form->f_holes->lower.y_mm; }),
        other("the f-hole's line", [](H& h) -> double& { return h.form->f_hole_rims[0][1].x_mm; }),
        other("slot", [](H& h) -> double& { return h.form->f_holes->slot_mm; }),
        other("upper eye", [](H& h) -> double& { return h.form->f_holes->upper_eye_mm; }),
        other("lower eye", [](H& h) -> double& { return h.form->f_holes->lower_eye_mm; }),
        other("bar's lower end across", [](H& h) -> double& { return h.form->bar->lower.x_mm; }),
        other("bar's lower end along", [](H& h) -> double& { return h.form->bar->lower.y_mm; }),
        other("bar's upper end across", [](H& h) -> double& { return h.form->bar->upper.x_mm; }),
        other("bar's upper end along", [](H& h) -> double& { return h.form->bar->upper.y_mm; }),
        other("bar's ends' height", [](H& h) -> double& { return h.form->bar->end_height_mm; }),
        other("bar's fullness", [](H& h) -> double& { return h.form->bar->fullness; }),
        other("right half's density", [](H& h) -> double& { return h.form->right_density; }),
        other("right half's stiffness", [](H& h) -> double& { return h.form->right_stiffness; }),
        other("density", [](H& h) -> double& { return *h.plate.density_kg_m3; }),
        other("billet's length", [](H& h) -> double& { return h.wood->tests[0].record.along_mm; }),
        other("billet's mass", [](H& h) -> double& { return *h.wood->tests[0].record.mass_g; }),
        other("billet's tap",
              [](H& h) -> double& { return h.wood->tests[0].modes[0].frequency_hz; }),
        other("mass", [](H& h) -> double& { return *h.sessions[0].session.mass_g; }),
        other("temperature", [](H& h) -> double& { return *h.sessions[1].session.temperature_c; }),
        other("humidity", [](H& h) -> double& { return *h.sessions[0].session.humidity_pct; }),
        other("a reading",
              [](H& h) -> double& { return h.sessions[1].thickness.readings[1].thickness_mm; }),
        other("its place",
              [](H& h) -> double& { return h.sessions[1].thickness.readings[1].at.x_mm; }),
        other("an earlier plan", [](H& h) -> double& { return h.sessions[0].plan->wood_g; }),
        other("a flex reading",
              [](H& h) -> double& { return h.sessions[0].flex[0].deflection_mm; }),
        other("a mode", [](H& h) -> double& { return h.sessions[0].modes[0].mode.frequency_hz; }),
        other("a mode's deviation",
              [](H& h) -> double& { return h.sessions[0].modes[0].mode.frequency_sd_hz; }),
    };
    // As a bar of 5 by 8 that is 4 by 10: the same product.
    all.emplace_back("bar's sides", [](H& h) {
        h.form->bar->width_mm *= 0.5; // exact, so that the product is the same
        h.form->bar->height_mm /= 0.5;
    });
    all.emplace_back("bar's own density", [](H& h) { h.form->bar->density_kg_m3 = 400.0; });
    all.emplace_back("kind", [](H& h) { h.instrument.kind = modes::InstrumentKind::viola; });
    all.emplace_back("part", [](H& h) { h.plate.part = modes::Part::back; });
    all.emplace_back("species", [](H& h) { h.form->species = "sitka_spruce"; });
    all.emplace_back("stage",
                     [](H& h) { h.sessions[1].session.stage = modes::Stage::f_holes_cut; });
    all.emplace_back("a mode's number", [](H& h) { h.sessions[1].modes[0].name->number = 2; });
    all.emplace_back("no name", [](H& h) { h.sessions[1].modes[0].name.reset(); });
    all.emplace_back("no holes", [](H& h) { h.form->f_holes.reset(); });
    all.emplace_back("no bar", [](H& h) { h.form->bar.reset(); });
    all.emplace_back("no wood", [](H& h) { h.wood.reset(); });
    all.emplace_back("no mass", [](H& h) { h.sessions[0].session.mass_g.reset(); });
    all.emplace_back("date", [](H& h) { h.sessions[0].session.begun.ms_since_epoch += 1; });
    all.emplace_back("one reading less", [](H& h) { h.sessions[0].thickness.readings.pop_back(); });
    return all;
}

} // namespace

TEST_CASE("a model is stale as soon as anything it was made from has changed") {
    const ledger::PlateHistory history = full_history();
    const bench::StudyInputs made = inputs_of(history, 1);
    CHECK(made == inputs_of(full_history(), 1));
    for (const auto& [what, change] : changes()) {
        ledger::PlateHistory changed = history;
        change(changed);
        CAPTURE(what);
        CHECK_FALSE(made == inputs_of(changed, 1));
    }
    CHECK_FALSE(made == inputs_of(history, 0));
}

TEST_CASE("a model is not stale for words, plans, pins, taps, or sessions after its own") {
    const ledger::PlateHistory history = full_history();
    const bench::StudyInputs made = inputs_of(history, 1);
    ledger::PlateHistory changed = history;
    changed.instrument.label = "Heron";
    changed.plate.label = "another";
    changed.plate.notes = "a note";
    changed.targets = {{5, 330.0}};
    changed.wood->wood.notes = "felled in winter";
    changed.sessions[0].session.notes = "rain";
    changed.sessions[1].pins = {{1, 11, {0.0, 0.0}, "stiff"}};
    changed.sessions[1].plan = ledger::PlanRecord{};
    changed.sessions[1].taps.resize(3);
    changed.sessions[1].modes.push_back({}); // one that bears no number
    changed.sessions[1].modes[0].id += 7;    // written anew with a tap
    changed.sessions.push_back(changed.sessions.back());
    CHECK(made == inputs_of(changed, 1));
}
