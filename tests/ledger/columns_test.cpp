#include "ledger/asked_fields.hpp"
#include "ledger/columns.hpp"
#include "ledger/shape_columns.hpp"
#include "ledger/tables/database.hpp"
#include "ledger/tables/record_rows.hpp"
#include "ledger/tables/schema.hpp"
#include "ledger/wood_columns.hpp"
#include "support/catch.hpp"

#include <algorithm>
#include <set>

using namespace platewright;
using namespace platewright::ledger;

namespace {

/// A new ledger's tables.
struct Fresh {
    Database database{k_in_memory, Database::Access::read_write};
    Fresh() {
        for (const char* step : schema_steps())
            database.run(step);
    }
    std::set<std::string> columns(std::string_view table) {
        std::set<std::string> names;
        Statement rows{database, "SELECT name FROM pragma_table_info(?)"};
        rows.bind_all(table);
        while (rows.step())
            names.insert(rows.text());
        return names;
    }
};

/// What stands beside a record in its table: its number, what it belongs to, when it was said.
template <class Record>
void check_columns(Fresh& fresh, const std::set<std::string>& beside) {
    INFO(TableOf<Record>::name);
    std::set<std::string> described = beside;
    for_each_column<Record>([&](const auto& column) {
        INFO(column.name);
        CHECK(described.insert(std::string(column.name)).second);
    });
    CHECK(described == fresh.columns(TableOf<Record>::name));
}

} // namespace

TEST_CASE("every column of a record's table is described, and none that is not there") {
    Fresh fresh;
    check_columns<InstrumentRecord>(fresh, {"id", "uid", "binned_ms"});
    check_columns<PlateRecord>(fresh, {"id", "uid", "binned_ms"});
    check_columns<SessionRecord>(fresh, {"id", "uid", "binned_ms"});
    check_columns<TapRecord>(fresh, {"id", "uid", "binned_ms"});
    check_columns<WoodTapRecord>(fresh, {"id", "uid"});
    check_columns<modes::Partial>(fresh, {"reading", "place"});
    check_columns<modes::Mode>(fresh, {"id", "mode_set", "number", "confidence"});
    check_columns<modes::SpotLevel>(fresh, {"mode"});
    check_columns<ReferenceRecord>(fresh, {"id", "uid", "added_ms", "binned_ms"});
    check_columns<FormRecord>(fresh, {"id", "plate", "said_ms"});
    check_columns<plate::Point>(fresh, {"form", "place"});
    check_columns<plate::HeightReading>(fresh, {"form", "place"});
    check_columns<plate::FHole>(fresh, {"form"});
    check_columns<FHoleRimPoint>(fresh, {"form", "place"});
    check_columns<plate::BassBar>(fresh, {"form"});
    check_columns<plate::ThicknessReading>(fresh, {"map", "place"});
    check_columns<PinRecord>(fresh, {"id", "uid", "binned_ms"});
    check_columns<FlexRecord>(fresh, {"id", "uid", "binned_ms"});
    check_columns<WeighingRecord>(fresh, {"id", "uid", "binned_ms"});
    check_columns<PlanRecord>(fresh, {"id", "uid"});
    check_columns<plate::PlanOutcome>(fresh, {"plan", "place"});
    check_columns<plate::Stroke>(fresh, {"plan", "place"});
    check_columns<WoodRecord>(fresh, {"id", "uid", "binned_ms"});
    check_columns<WoodTestRecord>(fresh, {"id", "uid", "binned_ms"});
    check_columns<WoodModeRecord>(fresh, {"id", "test", "made_ms"});
    check_columns<TargetRecord>(fresh, {"id", "plate", "said_ms"});
}

namespace {

/// What of a record no option of the command line, or no form, asks for.
template <class Record>
std::set<std::string> not_asked(bool of_options) {
    std::set<std::string> names;
    for_each_column<Record>([&](const auto& column) {
        if ((of_options ? column.asked.option : column.asked.label).empty())
            names.insert(std::string(column.name));
    });
    return names;
}

} // namespace

TEST_CASE("a maker is asked for every field of what he keeps, by form and command line") {
    using Names = std::set<std::string>;
    const Names session{"plate", "begun_ms"}; // --when and --to, and fields of their own
    CHECK(not_asked<SessionRecord>(true) == session);
    CHECK(not_asked<SessionRecord>(false) == session);
    const Names plate{"instrument", "created_ms"}; // --instrument, and a choice
    CHECK(not_asked<PlateRecord>(true) == plate);
    CHECK(not_asked<PlateRecord>(false) == plate);
    CHECK(not_asked<InstrumentRecord>(true) == Names{"created_ms"});
    CHECK(not_asked<InstrumentRecord>(false) == Names{"created_ms"});
    CHECK(not_asked<FormRecord>(true).empty());
    CHECK(not_asked<FormRecord>(false).empty());
    CHECK(not_asked<WoodTestRecord>(true) == Names{"wood", "at_ms"});
    CHECK(not_asked<WoodTestRecord>(false) == Names{"wood", "at_ms", "notes"});
    CHECK(not_asked<WoodRecord>(true) == Names{"label", "notes", "created_ms"});
    CHECK(not_asked<WoodRecord>(false) == Names{"created_ms"});
}

TEST_CASE("what is asked for can be read and set where the record lies") {
    SessionRecord session;
    session.stage = modes::Stage::rough;
    std::vector<AskedField> fields = asked_fields(session);
    const auto field = [&](std::string_view column) -> AskedField& {
        return *std::ranges::find(fields, column, &AskedField::column);
    };
    REQUIRE(fields.size() == 5);
    *std::get<std::optional<double>*>(field("mass_g").value) = 61.5;
    CHECK(session.mass_g == 61.5);
    const auto& stage = std::get<Choice>(field("stage").value);
    CHECK(stage.all.at(stage.chosen).word == "rough");
    stage.choose(4);
    CHECK(session.stage == modes::Stage::bar_fitted);
    CHECK(field("mass_g").asked->option_name() == "mass");
    CHECK(field("mass_g").asked->option_kind() == "G");
}

TEST_CASE("a record comes back from its row as it went in, whatever its fields hold") {
    Fresh fresh;
    SessionRecord session;
    session.begun = {1'700'000'000'123};
    session.stage = modes::Stage::bar_fitted;
    session.mass_g = 61.25;
    session.notes = "a 'quoted' word, Größe";
    const Id instrument = insert_row(fresh.database, InstrumentRecord{});
    PlateRecord plate;
    plate.instrument = instrument;
    session.plate = insert_row(fresh.database, plate);
    session.id = insert_row(fresh.database, session);
    const auto there = [&] {
        Statement rows{fresh.database, select_all<SessionRecord>()};
        return read_rows<SessionRecord>(rows);
    };
    CHECK(there() == std::vector{session});

    session.mass_g.reset();
    session.humidity_pct = 47.5;
    session.stage = modes::Stage::finished;
    update_row(fresh.database, session);
    CHECK(there() == std::vector{session});

    fresh.database.execute("UPDATE session SET stage = 'of a program to come'");
    CHECK(there().empty());
}

TEST_CASE("what is said once stays as it was when a record is changed") {
    Fresh fresh;
    InstrumentRecord instrument;
    instrument.created = {5};
    instrument.id = insert_row(fresh.database, instrument);
    instrument.created = {6};
    instrument.label = "Wren";
    update_row(fresh.database, instrument);
    Statement rows{fresh.database, select_all<InstrumentRecord>()};
    const auto there = read_rows<InstrumentRecord>(rows);
    REQUIRE(there.size() == 1);
    CHECK(there.front().label == "Wren");
    CHECK(there.front().created.ms_since_epoch == 5);
}
