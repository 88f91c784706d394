#include "headless_window.hpp"
#include "plate/shape/fittings.hpp"
#include "plate/shape/outline.hpp"
#include "screen/carve/carving_form.hpp"
#include "screen/fields/drafts.hpp"
#include "screen/wood/wood_form.hpp"
#include "support/catch.hpp"
#include "wording/language.hpp"

using namespace platewright;
using screen::Key;
using test::full_plate;
using test::HeadlessWindow;
using test::sample_plate;
using test::sample_snapshot;
namespace command = bench::command;

// A form that is saved as it came changes nothing: every field bit for bit.

namespace {

/// Figures that no form shows in full.
constexpr double k_third = 1.0 / 3.0;

ledger::SessionRecord odd_session() {
    ledger::SessionRecord session;
    session.id = 3;
    session.plate = 1;
    session.begun = {1'773'480'413'589};
    session.stage = modes::Stage::rough;
    session.mass_g = 61.25;
    session.temperature_c = 20.0 + k_third;
    session.humidity_pct = 45.5;
    session.notes = "with one clamp";
    return session;
}

ledger::FormRecord odd_form() {
    const auto drawn = plate::make_outline(plate::usual_size(modes::InstrumentKind::violin));
    ledger::FormRecord form;
    form.rim = drawn->rim;
    form.size = {355.0 + k_third, 167.25, 110.125, 207.0625};
    form.arching = {15.04 + k_third, 4.27, 2.345678, 3.456789};
    form.heights = {{{10.5, 200.25}, 14.75}};
    form.f_holes = plate::usual_f_hole(drawn->size);
    form.f_holes->upper.x_mm += 0.04;
    form.f_holes->lower.y_mm += 0.01 * k_third;
    form.bar = plate::usual_bar(drawn->size);
    form.bar->width_mm += 0.06;
    form.bar->height_mm += k_third;
    form.bar->density_kg_m3 = 415.5;
    form.species = "red_maple";
    form.two_piece = false;
    form.right_density = 1.0123;
    form.right_stiffness = 0.987654321;
    form.rings_left_deg = -7.0 - k_third;
    form.run_out_deg = 2.25;
    return form;
}

} // namespace

TEST_CASE("a session's form that was not touched gives back every field as it was") {
    for (const auto mark : {wording::DecimalMark::point, wording::DecimalMark::comma}) {
        const wording::Speaking speaking(wording::Language::english, mark);
        const ledger::SessionRecord was = odd_session();
        const auto now = screen::SessionDraft(was).finished();
        REQUIRE(now);
        CHECK(now->id == was.id);
        CHECK(now->plate == was.plate);
        CHECK(now->begun == was.begun);
        CHECK(now->stage == was.stage);
        CHECK(now->mass_g == was.mass_g);
        CHECK(now->temperature_c == was.temperature_c);
        CHECK(now->humidity_pct == was.humidity_pct);
        CHECK(now->notes == was.notes);
    }
    ledger::SessionRecord unknown = odd_session();
    unknown.mass_g = unknown.temperature_c = unknown.humidity_pct = std::nullopt;
    const auto now = screen::SessionDraft(unknown).finished();
    REQUIRE(now);
    CHECK_FALSE((now->mass_g || now->temperature_c || now->humidity_pct));
}

TEST_CASE(
    "an instrument's and a plate's form that was not touched give back every field as it was") {
    ledger::InstrumentRecord instrument{4,     "Larkfield 9",   modes::InstrumentKind::cello,
                                        741.5, "for the lodge", {77}};
    const auto same = screen::InstrumentDraft(instrument).finished();
    REQUIRE(same);
    CHECK(same->id == instrument.id);
    CHECK(same->label == instrument.label);
    CHECK(same->kind == instrument.kind);
    CHECK(same->notes == instrument.notes);
    CHECK(same->created == instrument.created);

    ledger::PlateRecord plate{
        5, 4, modes::Part::top, "upper", "spruce", 412.7 + k_third, "flat arch", {78}};
    const auto now = screen::PlateDraft(plate).finished();
    REQUIRE(now);
    CHECK(now->id == plate.id);
    CHECK(now->instrument == plate.instrument);
    CHECK(now->part == plate.part);
    CHECK(now->label == plate.label);
    CHECK(now->wood == plate.wood);
    CHECK(now->density_kg_m3 == plate.density_kg_m3);
    CHECK(now->notes == plate.notes);
    CHECK(now->created == plate.created);
}

TEST_CASE("a shape's form that was not touched gives back every field as it was") {
    const ledger::FormRecord was = odd_form();
    const auto now = screen::FormDraft(was).finished();
    REQUIRE(now);
    CHECK(now->size.length_mm == was.size.length_mm);
    CHECK(now->size.upper_mm == was.size.upper_mm);
    CHECK(now->size.waist_mm == was.size.waist_mm);
    CHECK(now->size.lower_mm == was.size.lower_mm);
    CHECK(now->rim.size() == was.rim.size());
    CHECK(now->arching.arch_mm == was.arching.arch_mm);
    CHECK(now->arching.edge_mm == was.arching.edge_mm);
    CHECK(now->arching.long_fullness == was.arching.long_fullness);
    CHECK(now->arching.cross_fullness == was.arching.cross_fullness);
    REQUIRE(now->heights.size() == 1);
    CHECK(now->heights[0].height_mm == was.heights[0].height_mm);
    REQUIRE((now->f_holes && now->bar));
    CHECK(now->f_holes->upper.x_mm == was.f_holes->upper.x_mm);
    CHECK(now->f_holes->upper.y_mm == was.f_holes->upper.y_mm);
    CHECK(now->f_holes->lower.x_mm == was.f_holes->lower.x_mm);
    CHECK(now->f_holes->lower.y_mm == was.f_holes->lower.y_mm);
    CHECK(now->f_holes->slot_mm == was.f_holes->slot_mm);
    CHECK(now->bar->width_mm == was.bar->width_mm);
    CHECK(now->bar->height_mm == was.bar->height_mm);
    CHECK(now->bar->end_height_mm == was.bar->end_height_mm);
    CHECK(now->bar->density_kg_m3 == was.bar->density_kg_m3);
    CHECK(now->species == was.species);
    CHECK(now->two_piece == was.two_piece);
    CHECK(now->right_density == was.right_density);
    CHECK(now->right_stiffness == was.right_stiffness);
    CHECK(now->rings_left_deg == was.rings_left_deg);
    CHECK_FALSE(now->rings_right_deg);
    CHECK(now->run_out_deg == was.run_out_deg);
}

TEST_CASE("angles typed in the shape's form are kept, and emptied they are not known") {
    screen::FormDraft draft(odd_form());
    draft.figure("rings_left_deg").text = "";
    draft.figure("rings_right_deg").text = "12,5 °";
    draft.figure("run_out_deg").text = "-3";
    const auto now = draft.finished();
    REQUIRE(now);
    CHECK_FALSE(now->rings_left_deg);
    CHECK(now->rings_right_deg == 12.5);
    CHECK(now->run_out_deg == -3.0);
    draft.figure("run_out_deg").text = "30";
    const auto refused = draft.finished();
    REQUIRE_FALSE(refused);
    CHECK(refused.at == "Run-out of the right half, °"); // the field that is at fault
}

TEST_CASE("f-holes and bar that are emptied in the form are in the usual place again") {
    screen::FormDraft draft(odd_form());
    draft.f_hole = " ";
    draft.bar.clear();
    const auto now = draft.finished();
    REQUIRE(now);
    CHECK_FALSE(now->f_holes);
    CHECK_FALSE(now->bar);
}

TEST_CASE("an f-hole's line that was pasted is kept, drawn over and taken back in the form") {
    const std::string right =
        "M 40,-130 L 44,-140 45,-150 45,-160 44,-180 40,-190 37,-180 37,-140 Z";
    screen::FormDraft draft(odd_form());
    draft.f_hole_rim = right;
    const auto drawn = draft.finished();
    REQUIRE(drawn);
    REQUIRE(drawn->f_hole_rims.size() == 1);
    CHECK(plate::contains(drawn->f_hole_rims[0], {41.0, 160.0}));
    CHECK_FALSE(drawn->f_holes);

    CHECK(screen::FormDraft(*drawn).finished()->f_hole_rims == drawn->f_hole_rims);
    screen::FormDraft to_eyes(*drawn);
    to_eyes.f_hole = "24; 190; 54; 130";
    const auto eyes = to_eyes.finished();
    REQUIRE(eyes);
    CHECK(eyes->f_hole_rims.empty());
    CHECK(eyes->f_holes->upper.x_mm == 24.0);
    screen::FormDraft to_usual(*drawn);
    to_usual.f_hole.clear();
    CHECK(to_usual.finished()->f_hole_rims.empty());

    draft.f_hole_rim = "95; 130\n99; 140\n100; 150\n100; 160\n99; 180\n95; 190\n92; 180\n92; 140";
    const auto off = draft.finished();
    REQUIRE_FALSE(off);
    CHECK(off.fault().what.find("2 mm or more off its edge") != std::string::npos);
}

TEST_CASE("a wood's form that was not touched gives back every field as it was") {
    for (const char* species : {"", "norway_spruce", "a_wood_of_a_later_program"}) {
        const ledger::WoodRecord was{6, "Spruce 7", species, "felled 1998", "split", {79}};
        const auto now = screen::WoodDraft(was).finished_wood();
        REQUIRE(now);
        CHECK(now->id == was.id);
        CHECK(now->label == was.label);
        CHECK(now->species == was.species);
        CHECK(now->origin == was.origin);
        CHECK(now->notes == was.notes);
        CHECK(now->created == was.created);
    }
}

TEST_CASE("one field of a form that is changed changes that field alone, and may bear its unit") {
    screen::SessionDraft draft(odd_session());
    CHECK(draft.figure("mass_g").text == "61.25"); // what was weighed is seen, too
    CHECK(draft.figure("temperature_c").text == "20.3");
    draft.figure("humidity_pct").text = "45 %";
    const auto now = draft.finished();
    REQUIRE(now);
    CHECK(now->humidity_pct == 45.0);
    CHECK(now->mass_g == 61.25);
    CHECK(now->temperature_c == 20.0 + k_third);
    draft.figure("mass_g").text = "205,0g";
    CHECK(draft.finished()->mass_g == 205.0);
    draft.figure("mass_g").text = "205,0 oz";
    CHECK_FALSE(draft.finished());
}

TEST_CASE("a mass that can't be this plate's is refused in the form, and what was typed beside it "
          "stays") {
    HeadlessWindow window(sample_snapshot(sample_plate(3)));
    window.strike(Key::f4);
    const auto session = std::find_if(window.seen.begin(), window.seen.end(),
                                      [](const auto& s) { return s.words.starts_with("2:  "); });
    REQUIRE(session != window.seen.end());
    window.press(session->words);
    window.press("Correct"); // the writing mark stands in the mass
    window.write("1");
    window.press("[notes]");
    window.write("the second clamp slipped");
    window.press("Save");
    CHECK(window.reads_within("can't be"));
    CHECK_FALSE(window.last_sent<command::SaveSession>());
    window.press("[mass, g]"); // behind what is there
    window.write("20");
    window.press("Save");
    const auto saved = window.last_sent<command::SaveSession>();
    REQUIRE(saved);
    CHECK(saved->session.mass_g == 120.0);
    CHECK(saved->session.notes == "the second clamp slipped");
}

TEST_CASE("what was put away comes back by one key, the plate on the bench too") {
    HeadlessWindow window(sample_snapshot(sample_plate(3)));
    window.strike(Key::f4);
    window.press("Put away"); // the first: the plate's own
    REQUIRE(window.last_sent<command::Bin>());
    CHECK(window.last_sent<command::Bin>()->table == "plate");
    auto gone = window.now();
    gone.plate = nullptr;
    window.show(gone);
    CHECK(window.reads_within("Put back"));
    window.strike(U'r');
    REQUIRE(window.last_sent<command::Unbin>());
    CHECK(window.last_sent<command::Unbin>()->id == window.last_sent<command::Bin>()->id);
}

TEST_CASE("a session's stages are those that its part can be at") {
    const auto offered = [](modes::Part part, modes::Stage is) {
        const auto plate = sample_plate(3);
        plate->history.plate.part = part;
        plate->history.sessions.back().session.stage = is;
        HeadlessWindow window(sample_snapshot(plate));
        window.strike(U'e');
        window.press("[stage of the work]");
        std::vector<modes::Stage> all;
        for (const modes::Stage stage : modes::k_stages)
            if (window.reads(modes::to_text(stage)))
                all.push_back(stage);
        return all;
    };
    using enum modes::Stage;
    const std::vector<modes::Stage> back{rough, graduating, graduated, finished},
        top{rough, graduating, graduated, f_holes_cut, bar_fitted, finished},
        body{closed, varnished, set_up};
    CHECK(offered(modes::Part::back, graduating) == back);
    CHECK(offered(modes::Part::top, graduating) == top);
    CHECK(offered(modes::Part::body, closed) == body);
}
