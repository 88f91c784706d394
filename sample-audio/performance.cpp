#include "performance.hpp"

#include "strike.hpp"

#include <algorithm>
#include <cmath>

namespace demo {
namespace {

using nlohmann::ordered_json;

double rounded(double value, double per_unit) { return std::round(value * per_unit) / per_unit; }

double seconds_of(std::size_t sample) { return static_cast<double>(sample) / k_rate_hz; }

std::size_t samples_of(double seconds) {
    return static_cast<std::size_t>(std::lround(seconds * k_rate_hz));
}

/// Lays events one after another on the time line and keeps the account for the manifest.
class Stage {
public:
    Stage(const Session& session, Random& random) : session_(session), random_(random) {
        for (std::size_t k = 0; k < session.modes.size(); ++k) {
            holds_.push_back(hold_of_session(random));
        }
    }

    void happen(const Event& event) {
        if (!event.disturbance.empty()) {
            disturb(event);
        }
        if (!event.spot.empty()) {
            hit(event);
        }
    }

    const Signal& sound() const { return sound_; }
    ordered_json strikes = ordered_json::array();
    ordered_json disturbances = ordered_json::array();
    std::vector<std::vector<Sounded>> good; // one entry a good strike

private:
    void disturb(const Event& event) {
        const Signal noise =
            event.disturbance == "chair" ? chair(k_rate_hz, random_) : voice(k_rate_hz, random_);
        const double level = event.spot.empty() ? event.peak_dbfs : event.peak_dbfs - 8.0;
        add(noise, now_, amplitude_of_db(level));
        const std::size_t end = now_ + noise.size();
        disturbances.push_back({{"kind", event.disturbance},
                                {"from_s", rounded(seconds_of(now_), 1e4)},
                                {"to_s", rounded(seconds_of(end), 1e4)}});
        // Before a strike, silence is too short to judge; else the room has time to settle.
        now_ = end + samples_of(event.spot.empty() ? random_.between(0.6, 0.8) : 0.03);
    }

    void hit(const Event& event) {
        const Strike made = strike(session_, event.spot, holds_, k_rate_hz, random_);
        add(made.sound, now_, amplitude_of_db(event.peak_dbfs));
        const std::size_t onset = now_;
        if (event.fault == "struck_twice") {
            const Strike again = strike(session_, event.spot, holds_, k_rate_hz, random_);
            const auto bounce = onset + samples_of(random_.between(0.045, 0.085));
            add(again.sound, bounce, 0.6 * amplitude_of_db(event.peak_dbfs));
        }
        if (event.fault.empty()) {
            good.push_back(made.sounded);
            for (Sounded& sounded : good.back()) {
                sounded.amplitude *= amplitude_of_db(event.peak_dbfs);
            }
        }
        strikes.push_back({{"onset_s", rounded(seconds_of(onset), 1e7)},
                           {"onset_sample", onset},
                           {"spot", event.spot},
                           {"verdict", event.fault.empty() ? "accepted" : event.fault}});
        now_ = onset + samples_of(1.5 + random_.between(-0.12, 0.12));
    }

    void add(const Signal& part, std::size_t start, double amplitude) {
        sound_.resize(std::max(sound_.size(), start + part.size()), 0.0);
        for (std::size_t n = 0; n < part.size(); ++n) {
            sound_[start + n] += amplitude * part[n];
        }
    }

    const Session& session_;
    Random& random_;
    std::vector<Hold> holds_;
    Signal sound_;
    std::size_t now_ = samples_of(0.8); // quiet first, so that the room can be heard
};

ordered_json account_of_modes(const Session& session, const Stage& stage) {
    struct Sum {
        double energy = 0.0, hz = 0.0, loss = 0.0;
    };
    std::vector<Sum> sums(session.modes.size());
    double most = 0.0;
    for (const auto& strike : stage.good) {
        for (std::size_t k = 0; k < strike.size(); ++k) {
            const double energy = strike[k].amplitude * strike[k].amplitude;
            sums[k].energy += energy;
            sums[k].hz += strike[k].hz;
            sums[k].loss += 1.0 / strike[k].q;
            most = std::max(most, sums[k].energy);
        }
    }
    const auto strikes = static_cast<double>(stage.good.size());
    auto account = ordered_json::array();
    for (std::size_t k = 0; k < sums.size(); ++k) {
        const Mode& mode = session.modes[k];
        const Sum& sum = sums[k];
        account.push_back({{"number", mode.number},
                           {"hz", mode.hz},
                           {"q", mode.q},
                           {"sounded_hz", rounded(sum.hz / strikes, 1e3)},
                           {"sounded_q", rounded(strikes / sum.loss, 1e2)},
                           {"level_db", rounded(10.0 * std::log10(sum.energy / most), 10.0)}});
    }
    return account;
}

} // namespace

Performance play(const Session& session) {
    Random random(session.seed);
    Stage stage(session, random);
    for (const Event& event : session.events) {
        stage.happen(event);
    }
    Performance performance;
    performance.sound = stage.sound();
    Signal& sound = performance.sound;
    if (session.hum_hz > 0.0) {
        mix(sound, mains_hum(sound.size(), k_rate_hz, session.hum_hz,
                             amplitude_of_db(session.hum_dbfs), random));
    }
    mix(sound, room_noise(sound.size(), k_rate_hz, amplitude_of_db(session.room_dbfs), random));
    microphone(sound, k_rate_hz);
    const double full = 1.0 - std::ldexp(1.0, 1 - session.bits);
    for (double& x : sound) {
        x = std::clamp(x, -1.0, full);
    }
    performance.truth["duration_s"] = rounded(seconds_of(sound.size()), 1e4);
    performance.truth["hum_hz"] = session.hum_hz;
    performance.truth["strikes"] = stage.strikes;
    performance.truth["disturbances"] = stage.disturbances;
    performance.truth["modes"] = account_of_modes(session, stage);
    return performance;
}

} // namespace demo
