#pragma once
#include "speed/detection/sounds.hpp"

#include <cstdint>
#include <functional>
#include <string>
#include <vector>

/// What may sound at a bench, one event a case: strikes that are to be taken, and what is not to
/// be.
namespace rings {

using detection::Random;
using detection::Signal;

enum class Kind {
    strike,      ///< to be accepted
    twice,       ///< a strike with a second contact: to be refused as such
    disturbance, ///< to be refused
    other        ///< it rings, but nobody makes a violin of it: counted, not judged
};

struct Case {
    std::string group, source; ///< source: what is left out together when a score is fitted
    Kind kind = Kind::strike;
    Signal sound; ///< with the room; full scale 1
    double rate_hz = 48000;
    double low_hz = 40, high_hz = 2500;
    double at_s = 0;    ///< first touch
    double again_s = 0; ///< from there to the second contact; 0: none
};

using Take = std::function<void(Case&&)>;

/// Made from seeds: plates, held plates, boards, closed bodies, in rooms, over speech and hum,
/// struck twice; the disturbances of detection/, and knocks, coughs and a saw of this bench's own.
void made(const detection::Speakers& speakers, std::uint64_t seed, int each, const Take& take);

/// Real recordings: Debian's freepats where it is installed (each patch is a source), and single
/// strikes in a folder with a MANIFEST.tsv (file, source, licence, strongest_hz, note).
void recorded(const std::string& folder, std::uint64_t seed, const Take& take);

/// One thing struck again and again, its modes where they are but for the hold, at three spots in
/// turn, as a session's file has it; and what else sounded while that went on.
struct Sitting {
    std::string group;
    std::vector<Case> strikes, others;
};

/// Seven strikes of each of the kinds of `made`, with five sounds beside them: knocks on one bench
/// top, steps, a door, a thump, a tool. And sittings in which nothing else is struck than the
/// bench.
void sittings(const detection::Speakers& speakers, std::uint64_t seed, int each,
              const std::function<void(Sitting&&)>& take);

/// The event in a steady room, `level_db` over its floor (loudest 20 ms in 40 to 2500 Hz over the
/// floor's RMS).
Case in_room(const Signal& event, double level_db, double floor_dbfs, Random& random);

} // namespace rings
