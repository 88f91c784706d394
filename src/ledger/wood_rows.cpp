#include "ledger/wood_rows.hpp"

#include "base/words.hpp"
#include "ledger/rows.hpp"
#include "wording/say.hpp"

namespace platewright::ledger {
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

WoodTestRecord read_test(Statement& row) {
    WoodTestRecord test;
    test.id = row.integer();
    test.wood = row.integer();
    test.at = {row.integer()};
    const std::string piece = row.text();
    test.piece = known(piece_from_word(piece), piece);
    for (double* value : {&test.along_mm, &test.across_mm, &test.thickness_mm})
        *value = row.real();
    for (std::optional<double>* value :
         {&test.thin_edge_mm, &test.thickness_sd_mm, &test.mass_g, &test.temperature_c,
          &test.humidity_pct, &test.moisture_pct})
        *value = row.maybe_real();
    test.notes = row.text();
    return test;
}

// The newest row of each motion.
void read_wood_modes(Database& database, WoodTest& test) {
    Statement rows{database,
                   "SELECT motion, frequency_hz, frequency_sd_hz, q, q_sd, taps, analysis_version "
                   "FROM wood_mode m WHERE test = ? AND id = (SELECT id FROM wood_mode WHERE "
                   "test = m.test AND motion = m.motion ORDER BY made_ms DESC, id DESC LIMIT 1)"};
    rows.bind_all(test.record.id);
    std::vector<WoodModeRecord> found;
    while (rows.step()) {
        WoodModeRecord mode;
        const std::string word = rows.text();
        const auto motion = wood_motion_from_word(word);
        if (!motion)
            continue;
        mode.motion = *motion;
        mode.frequency_hz = rows.real();
        mode.frequency_sd_hz = rows.real();
        mode.q = rows.maybe_real();
        mode.q_sd = rows.maybe_real();
        mode.taps = static_cast<int>(rows.integer());
        mode.analysis_version = rows.text();
        found.push_back(std::move(mode));
    }
    for (const WoodMotion motion : k_wood_motions)
        for (const WoodModeRecord& mode : found)
            if (mode.motion == motion)
                test.modes.push_back(mode);
}

void read_wood_taps(Database& database, WoodTest& test) {
    Statement rows{database,
                   "SELECT id, test, at_ms, verdict, spot, sample_rate_hz, onset_frame, "
                   "onset_index, peak_dbfs, noise_dbfs, recording FROM wood_tap WHERE test = ? "
                   "ORDER BY at_ms, id"};
    rows.bind_all(test.record.id);
    while (rows.step())
        if (auto tap = usable([&] { return read_tap(rows); }))
            test.taps.push_back(*std::move(tap));
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

WoodRecord read_wood(Statement& row) {
    WoodRecord wood;
    wood.id = row.integer();
    for (std::string* text : {&wood.label, &wood.species, &wood.origin, &wood.notes})
        *text = row.text();
    wood.created = {row.integer()};
    return wood;
}

WoodHistory read_wood_history(Database& database, WoodRecord wood) {
    WoodHistory history;
    history.wood = std::move(wood);
    Statement tests{database,
                    "SELECT id, wood, at_ms, piece, along_mm, across_mm, thickness_mm, "
                    "thin_edge_mm, thickness_sd_mm, mass_g, temperature_c, humidity_pct, "
                    "moisture_pct, notes FROM wood_test WHERE wood = ? AND binned_ms IS NULL "
                    "ORDER BY at_ms, id"};
    tests.bind_all(history.wood.id);
    while (tests.step()) {
        WoodTest test;
        auto record = usable([&] { return read_test(tests); });
        if (!record)
            continue;
        test.record = *std::move(record);
        read_wood_modes(database, test);
        read_wood_taps(database, test);
        history.tests.push_back(std::move(test));
    }
    Statement plates{database,
                     "SELECT p.id FROM plate p JOIN carving c ON c.id = "
                     "(SELECT id FROM carving WHERE plate = p.id ORDER BY said_ms DESC, id DESC "
                     "LIMIT 1) WHERE c.wood = ? AND p.binned_ms IS NULL ORDER BY p.id"};
    plates.bind_all(history.wood.id);
    while (plates.step())
        history.plates.push_back(plates.integer());
    return history;
}

std::optional<WoodHistory> read_carved_from(Database& database, Id plate) {
    Statement row{database, std::string{"SELECT "} + k_wood_columns +
                                " FROM carving c JOIN wood w ON w.id = c.wood WHERE c.id = "
                                "(SELECT id FROM carving WHERE plate = ? ORDER BY said_ms DESC, "
                                "id DESC LIMIT 1) "
                                "AND w.binned_ms IS NULL"};
    row.bind_all(plate);
    if (!row.step())
        return std::nullopt;
    return read_wood_history(database, read_wood(row));
}

std::vector<TargetRecord> read_targets(Database& database, Id plate) {
    Statement rows{database,
                   "SELECT number, frequency_hz FROM target t WHERE plate = ? AND id = (SELECT id "
                   "FROM target WHERE plate = t.plate AND number = t.number ORDER BY said_ms DESC, "
                   "id DESC LIMIT 1) AND frequency_hz IS NOT NULL ORDER BY number"};
    rows.bind_all(plate);
    std::vector<TargetRecord> targets;
    while (rows.step()) {
        const int number = static_cast<int>(rows.integer());
        targets.push_back({number, rows.real()});
    }
    return targets;
}

} // namespace platewright::ledger
