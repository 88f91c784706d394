#pragma once
#include "base/clock.hpp"

#include <array>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace platewright::ledger {

struct TapRecord; // record.hpp

/// What is kept of the wood in stock, as plain values.

/// What was measured and tapped of a wood. A wedge is thinner at one edge.
enum class Piece { billet, wedge, bar, board };
inline constexpr std::array k_pieces{Piece::billet, Piece::wedge, Piece::bar, Piece::board};
std::string_view to_word(Piece piece); ///< "billet"
std::string_view to_text(Piece piece); ///< the same in the language of now
std::optional<Piece> piece_from_word(std::string_view word);

/// How a piece moved. Along and across are bending of the grain's own direction and of the other
/// one in the board's plane; the sound motions are of the piece as an organ pipe, by its length in
/// that direction (f = c / 2L). Always the lowest of its kind.
enum class WoodMotion { along, across, twist, sound_along, sound_across };
inline constexpr std::array k_wood_motions{WoodMotion::along, WoodMotion::across, WoodMotion::twist,
                                           WoodMotion::sound_along, WoodMotion::sound_across};
std::string_view to_word(WoodMotion motion); ///< "sound_along"
std::string_view to_text(WoodMotion motion); ///< "sound along the grain", in the language of now
std::optional<WoodMotion> wood_motion_from_word(std::string_view word);

/// Wood of one tree, as far as the maker knows: a billet with the bars cut from it, a wedge and the
/// board it became.
struct WoodRecord {
    bool operator==(const WoodRecord&) const = default;
    std::int64_t id = 0;
    std::string label;
    std::string species; ///< key of plate::species_table(); empty: another
    std::string origin;  ///< where from, when felled, what was paid, in the maker's words
    std::string notes;
    base::Timestamp created;
};

/// A tapped or typed motion of a piece.
struct WoodModeRecord {
    bool operator==(const WoodModeRecord&) const = default;
    WoodMotion motion = WoodMotion::along;
    double frequency_hz = 0;
    double frequency_sd_hz = 0;
    std::optional<double> q;
    std::optional<double> q_sd;
    int taps = 0;                 ///< that it was found in; 0: typed
    std::string analysis_version; ///< empty: typed
};

/// One piece of a wood, measured, weighed and tapped on one day.
struct WoodTestRecord {
    bool operator==(const WoodTestRecord&) const = default;
    std::int64_t id = 0;
    std::int64_t wood = 0;
    base::Timestamp at;
    Piece piece = Piece::billet;
    double along_mm = 0;                   ///< extent along the grain
    double across_mm = 0;                  ///< extent across it, in the plane of the board
    double thickness_mm = 0;               ///< of a wedge: its thick edge
    std::optional<double> thin_edge_mm;    ///< of a wedge
    std::optional<double> thickness_sd_mm; ///< how uneven; nothing: as a careful maker planes
    std::optional<double> mass_g;
    std::optional<double> temperature_c;
    std::optional<double> humidity_pct;
    std::optional<double> moisture_pct; ///< by a meter or by drying, % of dry mass
    std::string notes;
};

/// One measuring with what belongs to it.
struct WoodTest {
    bool operator==(const WoodTest&) const = default;
    WoodTestRecord record;
    std::vector<WoodModeRecord> modes; ///< the newest of each motion, in their order
    std::vector<TapRecord> taps;       ///< as sessions keep theirs, without readings
};

/// All that is kept of one wood, oldest test first.
struct WoodHistory {
    bool operator==(const WoodHistory&) const = default;
    WoodRecord wood;
    std::vector<WoodTest> tests;
    std::vector<std::int64_t> plates; ///< carved from it
};

/// What the maker wants a mode of a plate to come to.
struct TargetRecord {
    bool operator==(const TargetRecord&) const = default;
    int number = 0;
    double frequency_hz = 0;
};

} // namespace platewright::ledger
