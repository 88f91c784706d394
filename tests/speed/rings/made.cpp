#include "speed/rings/cases.hpp"
#include "strike.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <string>

namespace rings {
namespace {

using detection::k_rate_hz;

std::size_t samples_in(double seconds) { return static_cast<std::size_t>(seconds * k_rate_hz); }

constexpr std::array k_spots{"here", "there", "yonder"};

struct Struck {
    std::vector<double> hz;
    double low_q = 30, high_q = 100;
    double contact_ms = 2;
    double sound_s = 1.5;
};

/// Something with these modes: each a little elsewhere, its Q even in its logarithm; three spots.
demo::Session thing_of(const Struck& struck, Random& random) {
    demo::Session thing;
    thing.sound_s = struck.sound_s;
    thing.contact_ms = struck.contact_ms;
    for (const double at : struck.hz) {
        demo::Mode mode;
        mode.number = static_cast<int>(thing.modes.size()) + 1;
        mode.hz = at * random.between(0.96, 1.04);
        mode.q = struck.low_q * std::pow(struck.high_q / struck.low_q, random.even());
        mode.radiates = random.between(0.1, 1);
        for (const char* spot : k_spots)
            mode.shape[spot] = random.between(-1, 1);
        thing.modes.push_back(mode);
    }
    return thing;
}

Signal struck_at(const char* spot, const demo::Session& thing, Random& random) {
    const std::vector<demo::Hold> holds(thing.modes.size(), demo::hold_of_session(random));
    return demo::strike(thing, spot, holds, k_rate_hz, random).sound;
}

Signal strike_of(const Struck& struck, Random& random) {
    return struck_at(k_spots[0], thing_of(struck, random), random);
}

Struck plate(double low_q, double high_q, Random& random) {
    const std::array sizes{1.0, 0.72, 0.33};
    const double size =
        sizes[static_cast<std::size_t>(3 * random.even())] * random.between(0.88, 1.12);
    Struck struck{.hz = {92, 165, 225, 250, 355},
                  .low_q = low_q,
                  .high_q = high_q,
                  .contact_ms = random.between(1, 4)};
    for (double next = 420; next < 2200; next += random.between(40, 90))
        struck.hz.push_back(next);
    for (double& hz : struck.hz)
        hz *= size;
    return struck;
}

/// The closed instrument, tapped at the bridge: A0, CBR, B1- and B1+ near where violins have them,
/// then a mode each 40 to 90 Hz, strongest about 2 to 3 kHz (frequencies and Q: published ranges,
/// from memory).
Struck body(Random& random) {
    Struck struck{.hz = {random.between(255, 290), random.between(380, 430),
                         random.between(420, 480), random.between(500, 570)},
                  .low_q = 10,
                  .high_q = 50,
                  .contact_ms = random.between(0.2, 1),
                  .sound_s = 0.8};
    for (double next = 620; next < 5000; next += random.between(40, 90))
        struck.hz.push_back(next);
    return struck;
}

/// A free bar's bending modes (Rayleigh, Theory of Sound, § 170), and one of torsion.
Struck board(Random& random) {
    const double first = random.between(30, 250);
    Struck struck{.low_q = 50, .high_q = 160, .contact_ms = random.between(0.5, 3)};
    for (const double ratio : {1.0, 2.757, 5.404, 8.933, 13.34, random.between(1.5, 4)})
        struck.hz.push_back(first * ratio);
    return struck;
}

/// A room's decaying diffuse tail, `direct_db` under the direct sound, after a few ms (Polack's
/// model).
Signal in_tail(const Signal& sound, double t60_s, double direct_db, Random& random) {
    Signal heard = sound;
    heard.resize(sound.size() + samples_in(t60_s));
    std::vector<std::pair<std::size_t, double>> echoes;
    double energy = 0;
    for (double at_s = random.between(0.003, 0.010); at_s < t60_s;
         at_s += random.between(0.0004, 0.003)) {
        echoes.emplace_back(samples_in(at_s), random.normal() * std::pow(10, -3 * at_s / t60_s));
        energy += echoes.back().second * echoes.back().second;
    }
    for (const auto& [at, gain] : echoes) {
        const double weight = demo::amplitude_of_db(-direct_db) * gain / std::sqrt(energy);
        for (std::size_t n = 0; n < sound.size(); ++n)
            heard[at + n] += weight * sound[n];
    }
    return heard;
}

/// A bench top under knuckles or a mallet: few modes, heavily damped, and the contact.
Struck bench_top(Random& random) {
    Struck struck{.low_q = 2.5, .high_q = 7, .contact_ms = random.between(0.3, 3), .sound_s = 0.6};
    for (int mode = 0; mode < 5; ++mode)
        struck.hz.push_back(random.between(60, 900));
    return struck;
}

/// Bursts of noise with an attack and a decay: coughs (about 10 and 100 ms), a saw (strokes five a
/// second).
Signal bursts(int count, double each_s, double attack_s, double decay_s, Random& random) {
    Signal sound(samples_in(each_s * count + 0.3));
    double low = 0, pace = random.between(0.6, 0.97);
    for (std::size_t n = 0; n < sound.size(); ++n) {
        const double t = std::fmod(static_cast<double>(n) / k_rate_hz, each_s);
        const bool on = static_cast<double>(n) / k_rate_hz < each_s * count;
        low = pace * low + random.normal();
        sound[n] = on ? low * std::min(1.0, t / attack_s) * std::exp(-t / decay_s) : 0;
    }
    return sound;
}

void add(const Signal& part, double gain, std::size_t at, Signal& sound) {
    for (std::size_t n = 0; n < part.size() && at + n < sound.size(); ++n)
        sound[at + n] += gain * part[n];
}

struct Group {
    const char* name;
    Struck (*make)(Random&);
};
constexpr std::array k_groups{
    Group{"plate, Q 30 to 100", [](Random& r) { return plate(30, 100, r); }},
    Group{"plate, Q 20 to 30", [](Random& r) { return plate(20, 30, r); }},
    Group{"plate, Q 12 to 20", [](Random& r) { return plate(12, 20, r); }},
    Group{"plate, Q 8 to 12", [](Random& r) { return plate(8, 12, r); }},
    Group{"closed body, Q 10 to 50", body},
    Group{"board, Q 50 to 160", board},
};

std::string at_level(const Group& group, double level_db) {
    return std::string(group.name) + ", " + std::to_string(static_cast<int>(level_db)) + " dB";
}

void strikes(std::uint64_t seed, int each, const Take& take) {
    for (const Group& group : k_groups)
        for (const double level_db : {20.0, 30.0, 45.0})
            for (int i = 0; i < each; ++i) {
                Random random(++seed);
                Case made = in_room(strike_of(group.make(random), random), level_db,
                                    random.between(-72, -22 - level_db), random);
                made.group = at_level(group, level_db);
                made.source = group.name;
                take(std::move(made));
            }
}

void rooms(std::uint64_t seed, int each, const Take& take) {
    for (const double t60_s : {0.3, 0.6})
        for (int i = 0; i < each; ++i) {
            Random random(++seed);
            const Signal direct = strike_of(plate(30, 100, random), random);
            Case made = in_room(in_tail(direct, t60_s, 6, random), 40, -62, random);
            made.group = t60_s < 0.5 ? "plate in a room of 0.3 s" : "plate in a room of 0.6 s";
            made.source = "rooms";
            take(std::move(made));
        }
}

/// A tap while somebody speaks or a machine hums, the tap so much louder.
void over(const detection::Speakers& speakers, std::uint64_t seed, int each, const Take& take) {
    for (const bool hum : {false, true})
        for (int i = 0; i < each; ++i) {
            Random random(++seed);
            Case made = in_room(strike_of(plate(30, 100, random), random), 45, -62, random);
            const double under =
                demo::amplitude_of_db(-random.between(20, 30)) * demo::amplitude_of_db(-17);
            Signal noise =
                hum ? demo::mains_hum(made.sound.size(), k_rate_hz, 50, 1, random) : Signal{};
            while (noise.size() < made.sound.size()) {
                const Signal part = speakers.say(random);
                noise.insert(noise.end(), part.begin(), part.end());
            }
            add(noise, under / detection::loudest_rms(noise), 0, made.sound);
            made.group = made.source =
                hum ? "tap 20 to 30 dB over hum" : "tap 20 to 30 dB over speech";
            take(std::move(made));
        }
}

/// Adds the ring of one contact: resonators of these modes, pushed by a half sine, heard by their
/// speed's change.
void push(const std::vector<double>& hz, const std::vector<double>& q, double contact_s,
          double gain, std::size_t at, Signal& sound, Random& random) {
    const std::size_t contact = std::max<std::size_t>(2, samples_in(contact_s));
    for (std::size_t k = 0; k < hz.size(); ++k) {
        const double angle = 2 * std::numbers::pi * hz[k] / k_rate_hz;
        const double radius = std::exp(-std::numbers::pi * hz[k] / q[k] / k_rate_hz);
        const double weight = gain * random.between(-1, 1) * hz[k] * hz[k];
        double one = 0, two = 0;
        for (std::size_t n = 0; at + n < sound.size(); ++n) {
            const double force = n < contact
                                     ? std::sin(std::numbers::pi * (static_cast<double>(n) + 0.5) /
                                                static_cast<double>(contact))
                                     : 0;
            const double y = 2 * radius * std::cos(angle) * one - radius * radius * two + force;
            sound[at + n] += weight * (y - 2 * one + two);
            two = one;
            one = y;
        }
    }
}

/// The same modes set ringing twice, the second contact 3 to 16 dB weaker, at another spot, softer:
/// 1 to 4 ms.
void twice(std::uint64_t seed, int each, const Take& take) {
    for (int i = 0; i < 4 * each; ++i) {
        Random random(++seed);
        const Struck struck = plate(30, 100, random);
        std::vector<double> q;
        for (std::size_t k = 0; k < struck.hz.size(); ++k)
            q.push_back(30 * std::pow(100.0 / 30, random.even()));
        const double again_s = 0.010 * std::pow(30.0, random.even()),
                     weaker_db = random.between(3, 16);
        Signal first(samples_in(1.5)), second(samples_in(1.5));
        push(struck.hz, q, random.between(0.001, 0.004), 1, 0, first, random);
        push(struck.hz, q, random.between(0.001, 0.004), 1, samples_in(again_s), second, random);
        add(second,
            demo::amplitude_of_db(-weaker_db) * detection::loudest_rms(first) /
                detection::loudest_rms(second),
            0, first);
        Case made = in_room(first, 40, -65, random);
        made.group = again_s < 0.03  ? "second contact after 10 to 30 ms"
                     : again_s < 0.1 ? "second contact after 30 to 100 ms"
                                     : "second contact after 100 to 300 ms";
        made.source = "twice";
        made.kind = Kind::twice;
        made.again_s = again_s;
        take(std::move(made));
    }
}

void disturbances(const detection::Speakers& speakers, std::uint64_t seed, int each,
                  const Take& take) {
    const std::array names{"speech", "scraping", "thump", "chair", "door", "tool",
                           "steps",  "clap",     "knock", "cough", "saw"};
    for (std::size_t k = 0; k < names.size(); ++k)
        for (int i = 0; i < 2 * each; ++i) {
            Random random(++seed);
            const std::string name = names[k];
            const Signal event =
                name == "knock" ? strike_of(bench_top(random), random)
                : name == "cough"
                    ? bursts(2, random.between(0.25, 0.5), 0.01, random.between(0.05, 0.15), random)
                : name == "saw"
                    ? bursts(6, random.between(0.15, 0.3), random.between(0.01, 0.05), 0.1, random)
                    : detection::disturbance(static_cast<detection::Disturbance>(k), speakers,
                                             random);
            const Signal heard = random.even() < 0.5 ? in_tail(event, random.between(0.2, 0.6),
                                                               random.between(-3, 10), random)
                                                     : event;
            Case made = in_room(heard, random.between(18, 50), -68, random);
            made.group = made.source = name;
            made.kind = Kind::disturbance;
            take(std::move(made));
        }
}

} // namespace

Case in_room(const Signal& event, double level_db, double floor_dbfs, Random& random) {
    Case made;
    made.at_s = 0.6;
    const double floor = demo::amplitude_of_db(floor_dbfs);
    made.sound = detection::steady_room(samples_in(made.at_s + 0.5) + event.size(), random);
    for (double& x : made.sound)
        x *= floor;
    add(event, floor * demo::amplitude_of_db(level_db) / detection::loudest_rms(event),
        samples_in(made.at_s), made.sound);
    return made;
}

void made(const detection::Speakers& speakers, std::uint64_t seed, int each, const Take& take) {
    strikes(seed, each, take);
    rooms(seed + 10000, each, take);
    over(speakers, seed + 20000, each, take);
    twice(seed + 30000, each, take);
    disturbances(speakers, seed + 40000, each, take);
}

void sittings(const detection::Speakers& speakers, std::uint64_t seed, int each,
              const std::function<void(Sitting&&)>& take) {
    constexpr int strikes = 7, others = 5;
    const auto beside = [&](int i, const demo::Session& bench, double floor_dbfs, Random& random) {
        using detection::Disturbance;
        constexpr std::array kinds{Disturbance::steps, Disturbance::door, Disturbance::thump,
                                   Disturbance::tool};
        const Signal event =
            i == 0 || i > static_cast<int>(kinds.size())
                ? struck_at(k_spots[static_cast<std::size_t>(i) % 3], bench, random)
                : detection::disturbance(kinds[static_cast<std::size_t>(i) - 1], speakers, random);
        Case made = in_room(event, random.between(18, 50), floor_dbfs, random);
        made.kind = Kind::disturbance;
        return made;
    };
    for (const Group& group : k_groups)
        for (const double level_db : {20.0, 30.0, 45.0})
            for (int s = 0; s < each; ++s) {
                Random random(++seed);
                const demo::Session thing = thing_of(group.make(random), random),
                                    bench = thing_of(bench_top(random), random);
                const double floor_dbfs = random.between(-72, -22 - level_db);
                Sitting sitting{.group = at_level(group, level_db), .strikes = {}, .others = {}};
                for (int i = 0; i < strikes; ++i)
                    sitting.strikes.push_back(
                        in_room(struck_at(k_spots[static_cast<std::size_t>(i) % 3], thing, random),
                                level_db, floor_dbfs, random));
                for (int i = 0; i < others; ++i)
                    sitting.others.push_back(beside(i, bench, floor_dbfs, random));
                take(std::move(sitting));
            }
    for (int s = 0; s < 6 * each; ++s) {
        Random random(++seed);
        const demo::Session bench = thing_of(bench_top(random), random);
        Sitting sitting{.group = "nothing but the bench", .strikes = {}, .others = {}};
        for (int i = 0; i < strikes; ++i)
            sitting.others.push_back(beside(i + others, bench, -68, random));
        take(std::move(sitting));
    }
}

} // namespace rings
