#pragma once
#include "random.hpp"
#include "room.hpp"

#include <cstdint>
#include <string>
#include <vector>

/// A workshop to find taps in: what sounds in it, and plates struck in it. Computed from seeds, all
/// of it invented; only the speech comes from a program (espeak-ng). Nothing of src/ is used but
/// the band in which levels are read.
namespace detection {

using demo::Random;
using demo::Signal;

constexpr double k_rate_hz = 48000;

/// The band the detector listens in; levels here are RMS in it.
Signal in_band(const Signal& sound);

/// Loudest RMS of 20 ms in the band.
double loudest_rms(const Signal& sound);

/// Sentences spoken by espeak-ng in several voices and languages, at pitches and speeds that the
/// seed picks; peak 1. Throws std::runtime_error where espeak-ng is missing.
class Speakers {
public:
    Speakers(int sentences, std::uint64_t seed);
    /// A part of one sentence, or all of it.
    Signal say(Random& random) const;

private:
    std::vector<Signal> said_;
};

/// What never stops: mains hum with harmonics, a fan, the room's own noise; RMS 1 in the band.
Signal steady_room(std::size_t length, Random& random);

enum class Disturbance { speech, scraping, thump, chair, door, tool, steps, clap };
constexpr int k_disturbances = 8;
Signal disturbance(Disturbance which, const Speakers& speakers, Random& random);

/// How a room answers: an exponential tail of sparse random echoes (T60 0.2 to 0.5 s).
class Echo {
public:
    explicit Echo(Random& random);
    /// Adds the tail, `direct_db` weaker than the sound itself in energy, and lengthens the sound
    /// by it.
    Signal operator()(const Signal& sound, double direct_db) const;

private:
    std::vector<std::size_t> at_;
    std::vector<double> gain_;
    std::size_t length_ = 0;
};

enum class Family { violin, viola, cello };

/// A free plate of the family, struck anywhere with a soft hammer of 1.5 to 4 ms contact: modes 1
/// to 5 where the family has them, then an even mode density; Q 30 to 100, T60 at the most 2 s. Its
/// first sample is the first touch.
Signal plate_strike(Family family, Random& random);

} // namespace detection
