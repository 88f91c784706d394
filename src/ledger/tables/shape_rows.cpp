#include "ledger/tables/shape_rows.hpp"

#include "base/words.hpp"
#include "ledger/shape_columns.hpp"
#include "ledger/tables/record_rows.hpp"
#include "wording/say.hpp"

#include <utility>

namespace platewright::ledger {
namespace {

using FlexWord = base::Word<FlexKind, wording::Phrase>;

constexpr std::array k_flex_words{
    FlexWord{FlexKind::lengthwise, "lengthwise", "lengthwise"},
    FlexWord{FlexKind::crosswise, "crosswise", "crosswise"},
    FlexWord{FlexKind::twist, "twist", "twist"},
};

using ThingWord = base::Word<LaidThing, wording::Phrase>;

constexpr std::array k_thing_words{
    ThingWord{LaidThing::putty, "putty", "putty"},
    ThingWord{LaidThing::magnets, "magnets", "a pair of magnets"},
};

/// The list that lies in a record's table for one owner.
template <class Record>
std::vector<Record> read_list(Database& database, const char* of_owner, Id owner) {
    Statement rows{database, select_all<Record>() + of_owner};
    rows.bind_all(owner);
    return read_rows<Record>(rows);
}

template <class Record>
std::optional<Record> read_one(Database& database, const char* of_owner, Id owner) {
    std::vector<Record> found = read_list<Record>(database, of_owner, owner);
    return found.empty() ? std::nullopt : std::optional{std::move(found.front())};
}

void read_thickness(Database& database, SessionHistory& session) {
    Statement map{database, "SELECT id, made_ms FROM thickness_map WHERE session = ? "
                            "ORDER BY made_ms DESC, id DESC LIMIT 1"};
    map.bind_all(session.session.id);
    if (!map.step())
        return;
    session.thickness.id = map.integer();
    session.thickness.at = {map.integer()};
    session.thickness.readings = read_list<plate::ThicknessReading>(
        database, "WHERE t.map = ? ORDER BY t.place", session.thickness.id);
}

} // namespace

std::string_view to_word(LaidThing thing) { return base::row_of(k_thing_words, thing).word; }
std::string_view to_text(LaidThing thing) {
    return wording::say(base::row_of(k_thing_words, thing).text);
}
std::optional<LaidThing> laid_thing_from_word(std::string_view word) {
    return base::value_of(k_thing_words, word);
}

std::string_view to_word(FlexKind kind) { return base::row_of(k_flex_words, kind).word; }
std::string_view to_text(FlexKind kind) {
    return wording::say(base::row_of(k_flex_words, kind).text);
}
std::optional<FlexKind> flex_kind_from_word(std::string_view word) {
    return base::value_of(k_flex_words, word);
}

std::optional<FormRecord> read_form(Database& database, Id plate) {
    Statement row{database, "SELECT t.id, " + columns_of<FormRecord>("t") +
                                " FROM form t WHERE t.plate = ? ORDER BY t.said_ms DESC, t.id DESC "
                                "LIMIT 1"};
    row.bind_all(plate);
    if (!row.step())
        return std::nullopt;
    const Id id = row.integer();
    auto form = read_row<FormRecord>(row);
    form.rim = read_list<plate::Point>(database, "WHERE t.form = ? ORDER BY t.place", id);
    form.heights =
        read_list<plate::HeightReading>(database, "WHERE t.form = ? ORDER BY t.place", id);
    form.f_holes = read_one<plate::FHole>(database, "WHERE t.form = ?", id);
    int hole = -1;
    for (const FHoleRimPoint& point :
         read_list<FHoleRimPoint>(database, "WHERE t.form = ? ORDER BY t.hole, t.place", id)) {
        if (std::exchange(hole, point.hole) != point.hole)
            form.f_hole_rims.emplace_back();
        form.f_hole_rims.back().push_back(point.at);
    }
    form.bar = read_one<plate::BassBar>(database, "WHERE t.form = ?", id);
    return form;
}

void read_shape(Database& database, SessionHistory& session) {
    constexpr const char* k_in_use = "WHERE t.session = ? AND t.binned_ms IS NULL ORDER BY t.id";
    const Id id = session.session.id;
    read_thickness(database, session);
    session.pins = read_list<PinRecord>(database, k_in_use, id);
    session.flex = read_list<FlexRecord>(database, k_in_use, id);
    session.weighings = read_list<WeighingRecord>(
        database, "WHERE t.session = ? AND t.binned_ms IS NULL ORDER BY t.begun_ms, t.id", id);
    session.plan = read_one<PlanRecord>(
        database, "WHERE t.session = ? ORDER BY t.made_ms DESC, t.id DESC LIMIT 1", id);
    if (!session.plan)
        return;
    session.plan->modes =
        read_list<PlannedMode>(database, "WHERE t.plan = ? ORDER BY t.place", session.plan->id);
    session.plan->strokes =
        read_list<PlannedStroke>(database, "WHERE t.plan = ? ORDER BY t.place", session.plan->id);
}

} // namespace platewright::ledger
