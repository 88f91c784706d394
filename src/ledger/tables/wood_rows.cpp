#include "ledger/tables/wood_rows.hpp"

#include "base/words.hpp"
#include "ledger/tables/record_rows.hpp"
#include "ledger/wood_columns.hpp"
#include "wording/say.hpp"

#include <algorithm>

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

// The newest row of each motion, in the motions' order.
void read_wood_modes(Database& database, WoodTest& test) {
    Statement rows{database, select_all<WoodModeRecord>() +
                                 "WHERE t.test = ? AND t.id = (SELECT id FROM wood_mode WHERE "
                                 "test = t.test AND motion = t.motion ORDER BY made_ms DESC, id "
                                 "DESC LIMIT 1)"};
    rows.bind_all(test.record.id);
    test.modes = read_rows<WoodModeRecord>(rows);
    std::ranges::stable_sort(test.modes, {}, &WoodModeRecord::motion);
}

void read_wood_taps(Database& database, WoodTest& test) {
    Statement rows{database,
                   select_all<WoodTapRecord>() + "WHERE t.test = ? ORDER BY t.at_ms, t.id"};
    rows.bind_all(test.record.id);
    for (WoodTapRecord& tap : read_rows<WoodTapRecord>(rows))
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
    Statement tests{database,
                    select_all<WoodTestRecord>() +
                        "WHERE t.wood = ? AND t.binned_ms IS NULL ORDER BY t.at_ms, t.id"};
    tests.bind_all(history.wood.id);
    for (WoodTestRecord& record : read_rows<WoodTestRecord>(tests)) {
        WoodTest test{std::move(record), {}, {}};
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
    Statement row{database, "SELECT " + columns_of<WoodRecord>("w") +
                                " FROM carving c JOIN wood w ON w.id = c.wood WHERE c.id = "
                                "(SELECT id FROM carving WHERE plate = ? ORDER BY said_ms DESC, "
                                "id DESC LIMIT 1) "
                                "AND w.binned_ms IS NULL"};
    row.bind_all(plate);
    if (!row.step())
        return std::nullopt;
    return read_wood_history(database, read_row<WoodRecord>(row));
}

std::vector<TargetRecord> read_targets(Database& database, Id plate) {
    Statement rows{database,
                   select_all<TargetRecord>() +
                       "WHERE t.plate = ? AND t.id = (SELECT id FROM target WHERE plate = "
                       "t.plate AND number = t.number ORDER BY said_ms DESC, id DESC "
                       "LIMIT 1) AND t.frequency_hz IS NOT NULL ORDER BY t.number"};
    rows.bind_all(plate);
    return read_rows<TargetRecord>(rows);
}

} // namespace platewright::ledger
