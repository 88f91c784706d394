// A hammer's force at the bench: kept with its tap, judged, and answered spot by spot.
#include "bench/sound/forced.hpp"
#include "bench/workbench.hpp"
#include "ledger/store.hpp"
#include "morning.hpp"
#include "support/catch.hpp"
#include "support/temporary_folder.hpp"

#include <cmath>
#include <numbers>

using namespace platewright;
using bench::ForcedAnswer;
using modes::ForceVerdict;

namespace {

constexpr double k_forced_rate_hz = 48000,
                 k_gain = 2e-4;  // full scale of the sound for a newton and sample
constexpr double k_newton = 200; // at full scale of the force

/// A plate with one mode at 352 Hz, Q 60, pushed by half sines: its answer to each sample of force
/// is k_gain·e^(−δt)·sin(2π f t). `peaks_n`: the pushes of one tap, 60 ms apart.
bench::HeardTap pushed(std::vector<double> peaks_n, taps::Spot spot = taps::Spot::centre) {
    bench::HeardTap heard;
    heard.tap.sample_rate_hz = k_forced_rate_hz;
    heard.tap.onset_index = 4800;
    heard.tap.spot = spot;
    heard.tap.verdict = taps::Verdict::accepted;
    std::vector<double> force(4800 + 90000);
    for (std::size_t i = 0; i < peaks_n.size(); ++i)
        for (std::size_t n = 0; n < 40; ++n)
            force[4800 + 2880 * i + n] =
                peaks_n[i] * std::sin(std::numbers::pi * static_cast<double>(n) / 40.0);
    const double turn = 2 * std::numbers::pi * 352 / k_forced_rate_hz;
    const double shrink = std::exp(-std::numbers::pi * 352 / 60 / k_forced_rate_hz);
    double one = 0, two = 0;
    synth::Normal normal(3);
    for (const double push : force) {
        const double now = k_gain * std::sin(turn) * push + 2 * shrink * std::cos(turn) * one -
                           shrink * shrink * two;
        two = one, one = now;
        heard.tap.samples.push_back(static_cast<float>(now));
        heard.force.samples.push_back(
            static_cast<float>(std::clamp(push / k_newton + 1e-5 * normal(), -1.0, 1.0)));
    }
    heard.force.newton = k_newton;
    return heard;
}

std::vector<modes::NamedMode> found_352() {
    std::vector<modes::NamedMode> found(1);
    found[0].mode.frequency_hz = 352;
    return found;
}

/// |H| of that plate at 352 Hz: the sum of its answer's samples, in closed form (a geometric
/// series).
double truth() {
    const std::complex<double> back =
        std::polar(1.0, -2 * std::numbers::pi * 352 / k_forced_rate_hz);
    const double turn = 2 * std::numbers::pi * 352 / k_forced_rate_hz;
    const double shrink = std::exp(-std::numbers::pi * 352 / 60 / k_forced_rate_hz);
    return std::abs(k_gain * std::sin(turn) /
                    (1.0 - 2 * shrink * std::cos(turn) * back + shrink * shrink * back * back));
}

} // namespace

TEST_CASE(
    "the response at a mode is the plate's, in the hammer's newtons, and bad pushes don't count") {
    bench::Forced forced;
    CHECK(forced.add(pushed({80})) == ForceVerdict::good);
    CHECK(forced.add(pushed({50})) == ForceVerdict::good);
    CHECK(forced.add(pushed({300})) == ForceVerdict::clipped);
    CHECK(forced.add(pushed({80, 70})) == ForceVerdict::struck_twice);
    CHECK(forced.add(pushed({})) == ForceVerdict::none);
    auto plain = pushed({80});
    plain.force = {};
    CHECK_FALSE(forced.add(plain)); // no hammer: nothing is said of it
    CHECK(forced.add(pushed({60}, taps::Spot::lower_end)) == ForceVerdict::good);
    const auto answers = forced.answers(found_352());
    REQUIRE(answers.size() == 2);
    const ForcedAnswer& centre = answers[0];
    CHECK(centre.spot == taps::Spot::centre);
    CHECK(centre.strikes == 2);
    CHECK((centre.clipped == 1 && centre.pushed_twice == 1 && centre.no_force == 1));
    REQUIRE(centre.modes.size() == 1);
    // At 352 Hz the table's step of 0.5 Hz has a value of its own.
    CHECK(centre.modes[0].h1 == Approx(truth()).epsilon(0.01));
    CHECK(centre.modes[0].coherence > 0.999);
    CHECK(answers[1].strikes == 1);
    CHECK(forced.answers({}).front().modes.empty());
}

TEST_CASE("the force is kept with its tap, and a session opened again answers the same") {
    test::TemporaryFolder folder;
    const auto ledger = folder.path() / "ledger";
    const auto plate = test::plate_of_days_ago(ledger, 3, test::two_taps(folder.path()));
    std::vector<ForcedAnswer> before;
    const auto keep = [](bench::Workbench& bench, std::vector<double> peaks_n) {
        bench::HeardTap heard = pushed(std::move(peaks_n));
        heard.partials.push_back({.frequency_hz = 352,
                                  .frequency_sd_hz = 0.05,
                                  .q = 60,
                                  .q_sd = 1,
                                  .level_sd_db = 0.1,
                                  .phase_sd_rad = 0.01});
        bench.keep(std::move(heard));
        return bench.newest_force();
    };
    {
        ledger::Store store(ledger);
        bench::Workbench bench(store, {});
        bench.begin_session({.plate = plate});
        CHECK(keep(bench, {80}) == ForceVerdict::good);
        CHECK(keep(bench, {60}) == ForceVerdict::good);
        CHECK(keep(bench, {300}) == ForceVerdict::clipped);
        bench.settle();
        before = bench.view()->forced;
        REQUIRE(before.size() == 1);
        CHECK((before[0].strikes == 2 && before[0].clipped == 1));
    }
    ledger::Store store(ledger);
    bench::Workbench bench(store, {});
    bench.open_plate(plate);
    const auto after = bench.view()->forced;
    REQUIRE(after.size() == 1);
    CHECK(after[0].strikes == 2);
    CHECK(after[0].clipped == 1);
    CHECK(after[0].newton == k_newton);
    REQUIRE(after[0].modes.size() == before[0].modes.size());
    for (std::size_t i = 0; i < before[0].modes.size(); ++i) // to 2^-24 of full scale
        CHECK(after[0].modes[i].h1 == Approx(before[0].modes[i].h1).epsilon(1e-4));
    bench.open_session(bench.session());
    CHECK(bench.undo_tap() != 0);
    CHECK(bench.view()->forced.at(0).clipped == 0);
}
