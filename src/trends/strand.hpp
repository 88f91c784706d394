#pragma once
#include "ledger/record.hpp"
#include "trends/robust_line.hpp"
#include "trends/track.hpp"

#include <optional>
#include <span>
#include <vector>

namespace platewright::trends {

/// Which plate a top is, for following its modes: cutting the f-holes and fitting the bar each make
/// another of it, as post, bridge and strings do of a closed body. A back stays the same through
/// all stages. Equal values, equal shape.
int shape_of(modes::Part part, modes::Stage stage);

/// A track while it is being followed, and what it leads one to expect of the next session.
class Strand {
public:
    Strand(const ledger::PlateHistory& history, TrackPoint first);

    void add(const TrackPoint& point);

    /// The mode as it should be in a session: its last frequency, moved by what the mass says, with
    /// the damping and spots it had last.
    [[nodiscard]] modes::Mode expected_in(std::size_t session) const;

    /// The number that the maker gave to one of its modes, newest first.
    [[nodiscard]] std::optional<int> makers_number() const;

    [[nodiscard]] const Track& track() const { return track_; }

private:
    [[nodiscard]] double exponent(int shape) const;

    const ledger::PlateHistory* history_;
    Track track_;
};

/// Gives each track its name from the names of its modes: the maker's newest word, else the number
/// that the found names speak for most, by confidence. A number is borne by one track only: the
/// maker's word wins, then the stronger evidence.
void name_tracks(std::vector<Track>& tracks, const ledger::PlateHistory& history);

} // namespace platewright::trends
