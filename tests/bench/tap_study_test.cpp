#include "bench/sound/tap_study.hpp"
#include "modes/estimate/fit.hpp"
#include "support/catch.hpp"
#include "support/synth.hpp"

#include <algorithm>
#include <vector>

using namespace platewright;

TEST_CASE("a tap's fit leaves the noise over, and its spectrum lies on the tap's own") {
    synth::Normal normal(11);
    const std::vector<synth::Ring> plate{{115, 50, 0.05}, {170, 58, 0.1}, {355, 62, 0.2}};
    const taps::Tap tap = synth::tap(plate, normal, {.noise = 1e-4});
    const modes::Fit fit = modes::fit_tap(tap);
    REQUIRE(fit.status == modes::FitStatus::ok);
    const bench::TapStudy study = bench::study_of(tap, fit.partials, 2500);
    REQUIRE(study.heard.level_dbfs.size() == study.fitted.level_dbfs.size());
    for (const double hz : {115.0, 170.0, 355.0}) {
        const auto i = static_cast<std::size_t>(hz / study.heard.step_hz);
        INFO(hz);
        CHECK(study.fitted.level_dbfs[i] == Approx(study.heard.level_dbfs[i]).margin(0.2));
        CHECK(study.left.level_dbfs[i] < study.heard.level_dbfs[i] - 30);
    }
    CHECK(study.left_db < -25);
}

TEST_CASE("without partials all is left over, and without a ring there is nothing") {
    synth::Normal normal(12);
    const std::vector<synth::Ring> plate{{355, 62, 0.2}};
    taps::Tap tap = synth::tap(plate, normal);
    const bench::TapStudy study = bench::study_of(tap, {}, 2500);
    CHECK(study.left_db == Approx(0));
    CHECK(study.left.level_dbfs == study.heard.level_dbfs);
    tap.samples.resize(tap.onset_index);
    CHECK(bench::study_of(tap, {}, 2500).heard.level_dbfs.empty());
}
