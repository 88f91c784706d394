#pragma once
#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <functional>
#include <numbers>
#include <vector>

/// How a simulated room answers a plate that sounds in it. It shares no code with src/.
namespace synth {

struct Echo {
    std::size_t at = 0; ///< samples after the direct sound, which is 1 at 0
    double gain = 0;
};
using Echoes = std::vector<Echo>;

struct RoomParams {
    double t60_s = 0.5;
    double direct_db = 6; ///< the direct sound's energy over all the rest's
    double images_until_s =
        0.04; ///< reflections one by one until then, a diffuse tail from there on
    double rate_hz = 24000;
};

namespace echoes_inside {

inline double bring(Echoes& late, double direct_db) {
    double energy = 0;
    for (const Echo& e : late)
        energy += e.gain * e.gain;
    const double factor = std::sqrt(std::pow(10.0, -direct_db / 10) / energy);
    for (Echo& e : late)
        e.gain *= factor;
    return factor;
}

} // namespace echoes_inside

/// A box of 2.4 m height and more with plate and microphone 0.2 to 0.5 m apart, each 0.5 m from a
/// wall or farther: image sources (Allen & Berkley 1979, eq. 10, walls alike), each rounded to a
/// sample, then a tail of random echoes whose power goes on where the images' stops. `even` gives
/// evenly spread numbers of [0, 1).
inline Echoes image_room(const RoomParams& p, const std::function<double()>& even) {
    constexpr double sound_m_s = 343;
    const auto between = [&](double low, double high) { return low + (high - low) * even(); };
    const std::array<double, 3> size{between(3, 7), between(2.5, 5), between(2.4, 3.2)};
    std::array<double, 3> plate{}, microphone{};
    const double apart = between(0.2, 0.5), turn = between(0, 2 * std::numbers::pi);
    for (std::size_t k = 0; k < 3; ++k)
        plate[k] = between(0.9, size[k] - 0.9);
    microphone = {plate[0] + apart * std::cos(turn), plate[1] + apart * std::sin(turn), plate[2]};
    const double volume = size[0] * size[1] * size[2];
    const double surface = 2 * (size[0] * size[1] + size[1] * size[2] + size[2] * size[0]);
    // Eyring 1930: ln of the energy a wall gives back.
    const double log_kept = -0.161 * volume / (surface * p.t60_s);
    Echoes late;
    const auto reach = [&](std::size_t k) {
        return static_cast<int>(sound_m_s * p.images_until_s / (2 * size[k])) + 1;
    };
    for (int i = -reach(0); i <= reach(0); ++i)
        for (int j = -reach(1); j <= reach(1); ++j)
            for (int k = -reach(2); k <= reach(2); ++k)
                for (int mirror = 0; mirror < 8; ++mirror) {
                    const std::array<int, 3> cell{i, j, k};
                    double squares = 0;
                    int walls = 0;
                    for (std::size_t d = 0; d < 3; ++d) {
                        const int flipped = mirror >> d & 1;
                        const double image =
                            (flipped ? -plate[d] : plate[d]) + 2 * cell[d] * size[d];
                        squares += (image - microphone[d]) * (image - microphone[d]);
                        walls += std::abs(cell[d] - flipped) + std::abs(cell[d]);
                    }
                    const double path = std::sqrt(squares);
                    const double at_s = (path - apart) / sound_m_s;
                    if (walls > 0 && at_s < p.images_until_s)
                        late.push_back({static_cast<std::size_t>(at_s * p.rate_hz + 0.5),
                                        apart / path * std::exp(0.5 * log_kept * walls)});
                }
    // So many images a second, each so strong: the power of the images' crowd.
    constexpr double echoes_a_second = 2500;
    const double power = 4 * std::numbers::pi * sound_m_s / volume * apart * apart;
    for (double at_s = p.images_until_s; at_s < 1.1 * p.t60_s; at_s += 2 * even() / echoes_a_second)
        late.push_back({static_cast<std::size_t>(at_s * p.rate_hz + 0.5),
                        (even() < 0.5 ? -1 : 1) * std::sqrt(power / echoes_a_second) *
                            std::pow(10.0, -3 * at_s / p.t60_s)});
    echoes_inside::bring(late, p.direct_db);
    return late;
}

/// Nothing but a diffuse tail, after a few ms (Polack's model).
inline Echoes diffuse_room(const RoomParams& p, const std::function<double()>& even) {
    Echoes late;
    constexpr double echoes_a_second = 1500;
    for (double at_s = 0.003 + 0.007 * even(); at_s < 1.1 * p.t60_s;
         at_s += 2 * even() / echoes_a_second)
        late.push_back({static_cast<std::size_t>(at_s * p.rate_hz + 0.5),
                        (even() < 0.5 ? -1 : 1) * even() * std::pow(10.0, -3 * at_s / p.t60_s)});
    echoes_inside::bring(late, p.direct_db);
    return late;
}

/// The sound with its echoes; as long as the sound and the room's tail.
inline std::vector<double> heard_in(const Echoes& echoes, const std::vector<double>& sound) {
    std::size_t longest = 0;
    for (const Echo& e : echoes)
        longest = std::max(longest, e.at);
    std::vector<double> heard = sound;
    heard.resize(sound.size() + longest);
    for (const Echo& e : echoes)
        for (std::size_t n = 0; n < sound.size(); ++n)
            heard[e.at + n] += e.gain * sound[n];
    return heard;
}

} // namespace synth
