#include "report/tables/csv_tables.hpp"
#include "support/catch.hpp"

#include <algorithm>

using namespace platewright;
using namespace platewright::report;

namespace {

ledger::PlateHistory invented_plate() {
    ledger::PlateHistory history;
    history.instrument = {1, "Wren", modes::InstrumentKind::violin, {}, "3.14", {0}};
    history.plate = {7,           1,  modes::Part::back, "Wren back", "maple, felled 12.10", 612.5,
                     "14.3.2026", {0}};
    history.targets = {{5, 350.5}};
    history.form.emplace();
    history.form->size.length_mm = 355.5;
    history.form->rim = {{0.5, 1.5}};
    history.form->heights = {{{0.5, 100.25}, 14.5}};
    history.form->f_hole_rims = {{{40.5, 130.0}}, {{-40.5, 130.25}}};
    for (const ledger::Id id : {11, 12}) { // begun in one minute
        ledger::SessionHistory session;
        session.session = {id,   7,    {1'773'480'413'000 + id}, modes::Stage::rough, 61.25, 20.5,
                           45.0, "1.5"};
        session.modes.push_back({1, id, "=HYPERLINK(1)", {}, modes::ModeName{.number = 5}});
        history.sessions.push_back(session);
    }
    ledger::PlanRecord plan;
    plan.wood_g = 3.5;
    plan.summary = "3.5 g on the whole";
    plan.modes = {{.number = 5, .now_hz = 360.25, .want_hz = 350.5}};
    plan.strokes = {{{10.5, 20.5}, true, 0.25}};
    history.sessions.back().plan = plan;
    return history;
}

const std::string& table(const std::vector<CsvTable>& all, std::string_view name) {
    const auto found = std::ranges::find(all, name, &CsvTable::name);
    REQUIRE(found != all.end());
    return found->text;
}

std::vector<CsvTable> tables(CsvStyle style) {
    CsvTables made(style);
    made.add(invented_plate());
    made.add(ledger::ReferenceRecord{1, 12, "liked"});
    made.add(ledger::ReferenceRecord{2, 99, "of another plate"});
    ledger::WoodHistory wood;
    wood.wood = {3, "Maple 2.5", "sugar_maple", "", "", {0}};
    wood.tests.push_back(
        {{.id = 4, .wood = 3, .piece = ledger::Piece::bar, .along_mm = 400.5, .mass_g = 50.5},
         {{ledger::WoodMotion::along, 210.5, 0.5, 80.5, {}, 0, ""}},
         {}});
    made.add(wood);
    return std::move(made).finish();
}

bool has(const std::string& text, std::string_view part) {
    return text.find(part) != std::string::npos;
}

} // namespace

TEST_CASE("the comma of other countries is set in numbers and never in words") {
    const auto all = tables(CsvStyle::comma);
    const std::string& plates = table(all, "plates.csv");
    CHECK(has(plates, "612,5;14.3.2026;3.14;2"));
    CHECK(has(plates, "maple, felled 12.10"));
    const std::string& sessions = table(all, "sessions.csv");
    CHECK(has(sessions, "rough;61,25;20,5;45;1.5"));
    CHECK(has(table(all, "woods.csv"), "Maple 2.5"));
    CHECK(has(table(all, "plans.csv"), "3.5 g on the whole"));
}

TEST_CASE("two sessions of one minute are told apart in every table") {
    const auto all = tables(CsvStyle::point);
    for (const char* name : {"sessions.csv", "modes.csv"}) {
        const std::string& text = table(all, name);
        CHECK(has(text, "session,session_id"));
        CHECK(has(text, ",11,"));
        CHECK(has(text, ",12,"));
    }
}

TEST_CASE("targets, plans, references, shapes and wood have tables") {
    const auto all = tables(CsvStyle::point);
    CHECK(has(table(all, "targets.csv"), ",5,350.5"));
    CHECK(has(table(all, "plan_modes.csv"), ",5,360.25,350.5"));
    CHECK(has(table(all, "plan_strokes.csv"), "10.5,20.5,yes,0.25"));
    CHECK(has(table(all, "references.csv"), ",12,liked"));
    CHECK_FALSE(has(table(all, "references.csv"), "another plate"));
    CHECK(has(table(all, "shapes.csv"), "355.5"));
    CHECK(has(table(all, "outlines.csv"), "0.5,1.5"));
    CHECK(has(table(all, "f_holes.csv"), "left,-40.5,130.25"));
    CHECK(has(table(all, "heights.csv"), "100.25,14.5"));
    CHECK(has(table(all, "wood_tests.csv"), "bar,400.5"));
    CHECK(has(table(all, "wood_modes.csv"), "along,210.5"));
}

TEST_CASE("no text from outside stands in a cell as a formula") {
    // OWASP, CSV injection: = + - @ and tabs begin one
    for (const CsvTable& one : tables(CsvStyle::point))
        for (const char* formula : {",=", ",+", ",@"})
            CHECK_FALSE(has(one.text, formula));
}
