#include "ledger/tables/rows.hpp"

#include "base/words.hpp"
#include "ledger/shape_columns.hpp"
#include "ledger/tables/record_rows.hpp"
#include "ledger/wood_columns.hpp"
#include "wording/say.hpp"

#include <algorithm>
#include <utility>

namespace platewright::ledger {

std::optional<std::string> setting(Database& database, std::string_view key) {
    return database.first_text("SELECT value FROM setting WHERE key = ?", key);
}

void set_setting(Database& database, std::string_view key, std::string_view value) {
    database.execute(
        "INSERT INTO setting VALUES (?, ?) ON CONFLICT (key) DO UPDATE SET value = excluded.value",
        key, value);
}

void know_recording(Database& database, std::string_view hash, std::int64_t sample_rate_hz,
                    std::size_t frames, std::size_t bytes) {
    database.execute("INSERT INTO recording (hash, sample_rate_hz, frames, bytes, kept_ms) "
                     "VALUES (?, ?, ?, ?, ?) ON CONFLICT DO NOTHING",
                     hash, sample_rate_hz, static_cast<std::int64_t>(frames),
                     static_cast<std::int64_t>(bytes), base::now().ms_since_epoch);
}

bool is_known_recording(Database& database, std::string_view hash) {
    return database.first_integer("SELECT 1 FROM recording WHERE hash = ?", hash).has_value();
}

namespace {

using wording::Phrase;
using PieceWord = base::Word<Piece, Phrase>;
using MotionWord = base::Word<WoodMotion, Phrase>;

constexpr std::array k_piece_words{
    PieceWord{Piece::billet, "billet", Phrase("billet")},
    PieceWord{Piece::wedge, "wedge", Phrase("wedge")},
    PieceWord{Piece::bar, "bar", Phrase("bar")},
    PieceWord{Piece::board, "board", Phrase("board")},
};
constexpr std::array k_motion_words{
    MotionWord{WoodMotion::along, "along", Phrase("bending along the grain")},
    MotionWord{WoodMotion::across, "across", Phrase("bending across the grain")},
    MotionWord{WoodMotion::twist, "twist", Phrase("twist")},
    MotionWord{WoodMotion::sound_along, "sound_along", Phrase("sound along the grain")},
    MotionWord{WoodMotion::sound_across, "sound_across", Phrase("sound across the grain")},
};

// The newest row of each motion, in the motions' order.
void read_wood_modes(Database& database, WoodTest& test) {
    test.modes = read_list<WoodModeRecord>(
        database,
        "WHERE t.test = ? AND t.id = (SELECT id FROM wood_mode WHERE test = t.test AND motion = "
        "t.motion ORDER BY made_ms DESC, id DESC LIMIT 1)",
        test.record.id);
    std::ranges::stable_sort(test.modes, {}, &WoodModeRecord::motion);
}

void read_wood_taps(Database& database, WoodTest& test) {
    for (WoodTapRecord& tap : read_list<WoodTapRecord>(
             database, "WHERE t.test = ? ORDER BY t.at_ms, t.id", test.record.id))
        test.taps.push_back(std::move(tap));
}

} // namespace

std::string_view to_word(Piece piece) { return base::row_of(k_piece_words, piece).word; }
std::optional<Piece> piece_from_word(std::string_view word) {
    return base::value_of(k_piece_words, word);
}
std::string_view to_word(WoodMotion motion) { return base::row_of(k_motion_words, motion).word; }
std::string_view to_text(Piece piece) {
    return wording::say(base::row_of(k_piece_words, piece).text);
}
std::string_view to_text(WoodMotion motion) {
    return wording::say(base::row_of(k_motion_words, motion).text);
}
std::optional<WoodMotion> wood_motion_from_word(std::string_view word) {
    return base::value_of(k_motion_words, word);
}

WoodHistory read_wood_history(Database& database, WoodRecord wood) {
    WoodHistory history;
    history.wood = std::move(wood);
    for (WoodTestRecord& record : read_list<WoodTestRecord>(
             database, "WHERE t.wood = ? AND t.binned_ms IS NULL ORDER BY t.at_ms, t.id",
             history.wood.id)) {
        WoodTest test{std::move(record), {}, {}};
        read_wood_modes(database, test);
        read_wood_taps(database, test);
        history.tests.push_back(std::move(test));
    }
    history.plates = database.integers(
        "SELECT p.id FROM plate p JOIN carving c ON c.id = "
        "(SELECT id FROM carving WHERE plate = p.id ORDER BY said_ms DESC, id DESC "
        "LIMIT 1) WHERE c.wood = ? AND p.binned_ms IS NULL ORDER BY p.id",
        history.wood.id);
    return history;
}

std::optional<WoodHistory> read_carved_from(Database& database, Id plate) {
    Statement row{database,
                  "SELECT " + columns_of<WoodRecord>("w") +
                      " FROM carving c JOIN wood w ON w.id = c.wood WHERE c.id = "
                      "(SELECT id FROM carving WHERE plate = ? ORDER BY said_ms DESC, "
                      "id DESC LIMIT 1) "
                      "AND w.binned_ms IS NULL",
                  plate};
    if (!row.step())
        return std::nullopt;
    return read_wood_history(database, read_row<WoodRecord>(row));
}

std::vector<TargetRecord> read_targets(Database& database, Id plate) {
    return read_list<TargetRecord>(
        database,
        "WHERE t.plate = ? AND t.id = (SELECT id FROM target WHERE plate = "
        "t.plate AND number = t.number ORDER BY said_ms DESC, id DESC "
        "LIMIT 1) AND t.frequency_hz IS NOT NULL ORDER BY t.number",
        plate);
}

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

void read_thickness(Database& database, SessionHistory& session) {
    Statement map{database,
                  "SELECT id, made_ms FROM thickness_map WHERE session = ? "
                  "ORDER BY made_ms DESC, id DESC LIMIT 1",
                  session.session.id};
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
    Statement row{database,
                  "SELECT t.id, " + columns_of<FormRecord>("t") +
                      " FROM form t WHERE t.plate = ? ORDER BY t.said_ms DESC, t.id DESC "
                      "LIMIT 1",
                  plate};
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
    session.plan->modes = read_list<plate::PlanOutcome>(
        database, "WHERE t.plan = ? ORDER BY t.place", session.plan->id);
    session.plan->strokes =
        read_list<plate::Stroke>(database, "WHERE t.plan = ? ORDER BY t.place", session.plan->id);
}

} // namespace platewright::ledger
