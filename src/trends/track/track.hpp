#pragma once
#include "ledger/record.hpp"

#include <cstddef>
#include <optional>
#include <span>
#include <vector>

namespace platewright::trends {

/// A mode of one session, as a point of a track.
struct TrackPoint {
    std::size_t session = 0; ///< index into PlateHistory::sessions
    std::size_t mode = 0;    ///< index into that session's modes
    modes::Mode value;
    double confidence = 1; ///< that the point belongs to this track, 0..1
};

/// One mode followed through a plate's sessions; sessions where it was not found are left out.
struct Track {
    std::optional<modes::ModeName>
        name;                       ///< as of the newest session that has one; the maker's wins
    std::vector<TrackPoint> points; ///< by session, ascending
};

/// Tracks of all modes through all sessions, by assignment with gates (frequency, damping, spot
/// profile), wider across f-holes and bar. Named tracks first (by number), then by frequency. Pure.
std::vector<Track> follow(const ledger::PlateHistory& history);

/// Of a session's modes, and of tracks, the one that bears this number; or null.
const ledger::ModeRecord* find_mode(std::span<const ledger::ModeRecord> modes, int number);
const Track* find_track(std::span<const Track> tracks, int number);

/// Which plate a top is, for following its modes: cutting the f-holes and fitting the bar each make
/// another of it, as post, bridge and strings do of a closed body. A back stays the same through
/// all stages. Equal values, equal shape.
int shape_of(modes::Part part, modes::Stage stage);

} // namespace platewright::trends
