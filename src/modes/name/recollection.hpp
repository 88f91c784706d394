#pragma once
#include "modes/mode.hpp"
#include "modes/name/name.hpp"
#include "modes/subject.hpp"

#include <span>
#include <vector>

namespace platewright::modes {

/// A mode as it was, set to what it would be today.
struct Remembered {
    double log_hz = 0; ///< of the frequency expected
    double log_hz_sd = 1;
    double log_q = 0;
    std::vector<SpotLevel> spots; ///< how it answered then
};

/// What the plate's own past leads to expect of a named mode today.
struct Recollection : Remembered {
    int name = 0;
    double sure = 0;                ///< how sure the name was then; 1 where the maker gave it
    std::vector<Remembered> others; ///< the session's modes without a name, which are not this one
};

/// One entry for each name an earlier session bore, from the newest that knew it. The frequency
/// follows the change of mass, and what all modes have moved alike since (weather, the hold).
/// In:   earlier sessions, newest last.  Threads: any.
std::vector<Recollection> recollect(std::span<const Mode> now, const Subject& subject,
                                    std::span<const Earlier> earlier);

/// Log-likelihood ratio of `mode` being the remembered one against its being any other: frequency,
/// damping, and how it answers at spots struck both times.
double log_likeness(const Mode& mode, const Remembered& memory);

/// The same of its being the named one against its being one of the others it was told from then,
/// or any other: 0 for a mode that no other comes near.
double log_other(const Mode& mode, const Recollection& memory);

} // namespace platewright::modes
