#include "speed/detection/scene.hpp"

#include "bench/sound/listening.hpp"

#include <algorithm>
#include <cmath>
#include <memory>
#include <span>

namespace detection {
namespace {

/// Adds `part` from `at` on, scaled so that its loudest 20 ms in the band are `rms`; gives the
/// sample after which it is below the floor's RMS, `floor`.
std::size_t place(Signal& sound, std::size_t at, const Signal& part, double rms, double floor) {
    const double scale = rms / std::max(1e-12, loudest_rms(part));
    for (std::size_t n = 0; n < part.size() && at + n < sound.size(); ++n)
        sound[at + n] += scale * part[n];
    const Signal heard = in_band(part);
    constexpr auto piece = static_cast<std::size_t>(0.02 * k_rate_hz);
    for (std::size_t end = heard.size(); end > piece; end -= piece) {
        double sum = 0;
        for (std::size_t n = end - piece; n < end; ++n)
            sum += heard[n] * heard[n];
        if (scale * std::sqrt(sum / static_cast<double>(piece)) > floor)
            return at + end;
    }
    return at;
}

/// Sound that is already there, as the program would hear it.
class Samples final : public platewright::audio::Source {
public:
    explicit Samples(std::span<const float> sound) : left_(sound) {}
    double sample_rate_hz() const override { return k_rate_hz; }
    platewright::audio::Block read() override {
        const auto piece = left_.first(std::min<std::size_t>(480, left_.size()));
        left_ = left_.subspan(piece.size());
        return {.samples = piece, .ended = left_.empty()};
    }

private:
    std::span<const float> left_;
};

} // namespace

Scene make_scene(Family family, const SceneParams& params, const Speakers& speakers,
                 std::uint64_t seed) {
    Random random(seed);
    const auto frames = [](double seconds) {
        return static_cast<std::size_t>(seconds * k_rate_hz);
    };
    Signal sound = steady_room(frames(params.seconds), random);
    const double floor = demo::amplitude_of_db(params.floor_dbfs);
    for (double& x : sound)
        x *= floor;
    const Echo echo(random);
    Scene scene;
    for (std::size_t at = frames(random.between(0.8, 1.6)); at + frames(3) < sound.size();) {
        if (!params.level_db || random.even() < params.disturbed) {
            const auto kind = static_cast<Disturbance>(random.even() * k_disturbances);
            // Never into full scale: that would be refused as clipped, all too easily.
            const double level_db = std::min(random.between(10, 50), -16 - params.floor_dbfs);
            const Signal part = echo(disturbance(kind, speakers, random), random.between(-3, 8));
            scene.stirs_s.push_back(static_cast<double>(at) / k_rate_hz);
            scene.kinds.push_back(kind);
            at = place(sound, at, part, floor * demo::amplitude_of_db(level_db), floor) +
                 frames(params.level_db ? random.between(0.3, 0.8) : random.between(0.05, 2));
            if (at + frames(3) >= sound.size())
                break;
        }
        if (!params.level_db)
            continue;
        const Signal part = echo(plate_strike(family, random), random.between(6, 14));
        scene.strikes_s.push_back(static_cast<double>(at) / k_rate_hz);
        place(sound, at, part, floor * demo::amplitude_of_db(*params.level_db), floor);
        at += frames(family == Family::cello ? random.between(2.2, 3.5) : random.between(1.1, 2.4));
    }
    scene.sound.reserve(sound.size());
    for (const double x : sound)
        scene.sound.push_back(static_cast<float>(std::clamp(x, -1.0, 1.0)));
    return scene;
}

void Score::add(const Scene& scene, const std::vector<double>& found_s) {
    std::vector<bool> taken(found_s.size(), false);
    for (const double truth : scene.strikes_s) {
        std::size_t best = found_s.size();
        for (std::size_t i = 0; i < found_s.size(); ++i)
            if (!taken[i] && std::abs(found_s[i] - truth) < 0.05 &&
                (best == found_s.size() ||
                 std::abs(found_s[i] - truth) < std::abs(found_s[best] - truth)))
                best = i;
        ++strikes;
        if (best == found_s.size())
            continue;
        taken[best] = true;
        ++hit;
        late_ms.push_back(1000 * (found_s[best] - truth));
    }
    wrong += static_cast<int>(std::count(taken.begin(), taken.end(), false));
}

double Score::recall() const { return strikes ? static_cast<double>(hit) / strikes : 1; }
double Score::precision() const {
    return hit + wrong ? static_cast<double>(hit) / (hit + wrong) : 1;
}
double Score::f_measure() const { return 2.0 * hit / std::max(1, strikes + hit + wrong); }

std::vector<platewright::taps::Tap> detect(const std::vector<float>& sound) {
    platewright::bench::Listening listening(std::make_unique<Samples>(sound), {});
    std::vector<platewright::bench::HeardTap> heard;
    for (bool ended = false; !ended;) {
        auto step = listening.step();
        ended = step.ended;
        for (auto& tap : step.taps) {
            tap.tap.samples.clear();
            heard.push_back(std::move(tap));
        }
    }
    platewright::bench::recognise(heard);
    std::vector<platewright::taps::Tap> taps;
    for (auto& tap : heard)
        taps.push_back(std::move(tap.tap));
    return taps;
}

std::vector<double> accepted(const std::vector<platewright::taps::Tap>& taps) {
    std::vector<double> onsets;
    for (const auto& tap : taps)
        if (tap.verdict == platewright::taps::Verdict::accepted)
            onsets.push_back(tap.onset_s());
    return onsets;
}

} // namespace detection
