#include "support/catch.hpp"
#include "trends/model/cut_trial.hpp"
#include "trends/model/weighed_taps.hpp"
#include "trends/story.hpp"

#include <cmath>
#include <map>

using namespace platewright;
using namespace platewright::trends;
using platewright::test::Story;

namespace {

using Hz = std::map<int, double>; // by the mode's number

const Hz k_bare{{1, 114.0}, {2, 168.0}, {3, 222.0}, {4, 233.0}, {5, 352.0}, {6, 404.0}};

ledger::SessionHistory session_with_modes() {
    ledger::SessionHistory session;
    session.session.mass_g = 100.0;
    for (const auto& [number, hz] : k_bare) {
        ledger::ModeRecord mode;
        mode.mode.frequency_hz = hz;
        mode.mode.level_db = -6.0;
        if (number == 1 || number == 2 || number == 5)
            mode.name = modes::ModeName{number, 1.0, false};
        session.modes.push_back(mode);
    }
    return session;
}

// What lies on it lowers each mode by these parts; all wander with the seconds.
ledger::TapRecord tap_at(int second, const Hz& falls, ledger::Id weighing, double drift = 0.0) {
    ledger::TapRecord tap;
    tap.id = second + 1;
    tap.at = {1'700'000'000'000 + 1000LL * second};
    tap.weighing = weighing;
    tap.verdict = weighing != 0 ? taps::Verdict::weighed : taps::Verdict::accepted;
    for (const auto& [number, hz] : k_bare) {
        const auto fall = falls.find(number);
        modes::Partial p;
        p.frequency_hz =
            hz * (1.0 + drift * second) * (1.0 - (fall == falls.end() ? 0.0 : fall->second));
        p.frequency_sd_hz = 0.01;
        tap.partials.push_back(p);
    }
    return tap;
}

const Hz k_gram{{2, 0.0005}, {3, 0.004}, {4, 0.003}, {5, 0.0114}, {6, 0.006}};
const ledger::WeighingRecord k_weighing{.id = 7, .at = {0.0, 178.0}, .mass_g = 1.0};

} // namespace

TEST_CASE("whether the mass is on is heard by all modes together") {
    const auto session = session_with_modes();
    const auto heard = [&](const ledger::TapRecord& tap) {
        return mass_heard(session.modes, tap.partials, 1.0, 100.0);
    };
    CHECK(heard(tap_at(0, {}, 0)) == MassHeard::off);
    CHECK(heard(tap_at(0, {}, 0, 0.0005)) == MassHeard::off); // the air moved it a little
    CHECK(heard(tap_at(0, k_gram, 0)) == MassHeard::on);
    // another plate: modes above and below
    CHECK(heard(tap_at(0, {{1, -0.05}, {2, 0.08}, {3, -0.04}, {4, 0.09}, {5, -0.1}, {6, 0.12}},
                       0)) == MassHeard::unclear);
    // lighter: no mass does that
    CHECK(heard(tap_at(0, {{1, -0.01}, {2, -0.01}, {3, -0.01}, {4, -0.01}, {5, -0.01}, {6, -0.01}},
                       0)) != MassHeard::on);
    CHECK(mass_heard({}, tap_at(0, k_gram, 0).partials, 1.0, 100.0) == MassHeard::unclear);
}

TEST_CASE("a weighing asks for bare taps, taps with the mass, and bare ones again") {
    auto session = session_with_modes();
    session.weighings = {k_weighing};
    const auto step = [&] { return progress_of(session, k_weighing).step; };
    CHECK(step() == WeighingStep::tap_bare);
    session.taps.push_back(tap_at(0, {}, 0));
    CHECK(step() == WeighingStep::tap_bare);
    session.taps.push_back(tap_at(2, {}, 0));
    CHECK(step() == WeighingStep::tap_with);
    session.taps.push_back(tap_at(4, k_gram, 7));
    CHECK(step() == WeighingStep::tap_with);
    session.taps.push_back(tap_at(6, k_gram, 7));
    CHECK(step() == WeighingStep::take_off);
    session.taps.push_back(tap_at(8, {}, 0));
    session.taps.push_back(tap_at(10, {}, 0));
    CHECK(step() == WeighingStep::done);
    CHECK(progress_of(session, k_weighing).bare_before == 2);
}

TEST_CASE("what the bare plate drifted meanwhile is taken out of a weighing") {
    auto session = session_with_modes();
    constexpr double k_drift = 2e-4; // of each frequency a second: 0.2 % over the weighing
    for (const int s : {0, 2})
        session.taps.push_back(tap_at(s, {}, 0, k_drift));
    for (const int s : {4, 6})
        session.taps.push_back(tap_at(s, k_gram, 7, k_drift));
    const auto without_return = weighed_shifts(session, k_weighing);
    for (const int s : {8, 10})
        session.taps.push_back(tap_at(s, {}, 0, k_drift));
    const auto shifts = weighed_shifts(session, k_weighing);
    REQUIRE(shifts.size() == 3);
    for (const WeighedModeShift& s : shifts) {
        const auto fall = k_gram.find(s.number);
        const double truth = fall == k_gram.end() ? 0.0 : std::log(1.0 - fall->second);
        CHECK(s.shift.log_ratio == Approx(truth).margin(2e-5));
        CHECK(s.shift.sd > 1e-4);
        CHECK(s.shift.sd < 6e-4);
        CHECK(s.drift_hz == Approx(8.0 * k_drift * k_bare.at(s.number)).epsilon(0.01));
    }
    // not tapped bare again: off by the drift, and said to be less sure
    REQUIRE(without_return.size() == 3);
    CHECK(without_return[2].shift.sd > 1.5 * shifts[2].shift.sd);
    // a place where the model has mode 5 fall by a third of it: sought there first
    const auto expected = [](int number) -> std::optional<double> {
        return number == 5 ? std::optional(-0.0115) : std::nullopt;
    };
    CHECK(weighed_shifts(session, k_weighing, expected)[2].on_hz == Approx(shifts[2].on_hz));
}

TEST_CASE("a mass that can't be is refused in a sentence") {
    const auto outline = *outline_of(*Story({0.0}).history.form);
    ledger::WeighingRecord w = k_weighing;
    CHECK_FALSE(fault_in(w, outline, 100.0));
    w.mass_g = 11.0;
    CHECK(fault_in(w, outline, 100.0)->what.find("tenth") != std::string::npos);
    CHECK_FALSE(fault_in(w, outline, std::nullopt)); // not known
    w.mass_g = 0.0;
    CHECK(fault_in(w, outline, 100.0));
    w = k_weighing;
    w.at = {300.0, 100.0};
    CHECK(fault_in(w, outline, 100.0)->what.find("off the plate") != std::string::npos);
    w = k_weighing;
    w.place_sd_mm = 80.0;
    CHECK(fault_in(w, outline, 100.0));
}

TEST_CASE("weighed taps of a plate count in its study, and a cut is foreseen the surer") {
    Story story({0.0, 0.25});
    ledger::PlateHistory& history = story.history;
    const auto before = study_plate(history, 1);
    REQUIRE(before);
    CHECK_FALSE(before->fit_by_taps);
    // what the true plate does with a gram in the middle
    ledger::SessionHistory& now = history.sessions[1];
    const plate::PlateModel model(before->model->form(), plate::PlateModel::k_fineness,
                                  plate::air_density_kg_m3(20.0, 50.0));
    const auto thickness =
        model.thickness_at([](plate::Point p) { return Story::thickness_mm(p, 0.25); });
    const auto modes = model.solve(thickness, story.wood, 10);
    const auto names = plate::ShapeJudge(model).names(modes.shapes);
    const std::vector<plate::LaidMass> masses{{{0, 178}, 1.0}, {{0, 12}, 1.0}, {{72, 72}, 1.0}};
    const std::vector<int> indices{names[0].index, names[1].index, names[2].index};
    const auto truth = plate::weighed_modes(model, thickness, plate::ArchShift::Zero(), story.wood,
                                            modes, masses, indices, false);
    int second = 0;
    const auto tap = [&](std::optional<std::size_t> laid) {
        ledger::TapRecord t;
        t.id = ++second;
        t.at = {now.session.begun.ms_since_epoch + 2000LL * second};
        t.weighing = laid ? static_cast<ledger::Id>(*laid) + 1 : 0;
        t.verdict = laid ? taps::Verdict::weighed : taps::Verdict::accepted;
        for (std::size_t k = 0; k < 3; ++k) {
            modes::Partial p;
            p.frequency_hz =
                now.modes[k].mode.frequency_hz * (laid ? std::exp(truth[*laid][k].log_ratio) : 1.0);
            p.frequency_sd_hz = 0.01;
            t.partials.push_back(p);
        }
        if (laid) { // nearer than mode 5 to where that is without the mass: another, unnamed one
            modes::Partial other = t.partials[2];
            other.frequency_hz *= std::exp(-0.6 * truth[*laid][2].log_ratio);
            t.partials.push_back(other);
        }
        now.taps.push_back(t);
    };
    for (std::size_t i = 0; i < masses.size(); ++i) {
        now.weighings.push_back({.id = static_cast<ledger::Id>(i) + 1,
                                 .session = now.session.id,
                                 .at = masses[i].at,
                                 .mass_g = 1.0});
        tap({}), tap({}), tap(i), tap(i);
    }
    tap({}), tap({});
    const auto study = study_plate(history, 1);
    REQUIRE(study);
    REQUIRE(study->fit_by_taps);
    REQUIRE(study->weighings.size() == 3);
    for (const WeighingReview& review : study->weighings) {
        INFO(review.record.at.y_mm << ": " << review.deviations << " deviations");
        CHECK(review.is_used);
        CHECK(review.deviations < 1.5);
        // each mode is sought where the model has it with the mass
        REQUIRE(review.shifts.size() == 3);
        for (std::size_t k = 0; k < 3; ++k)
            CHECK(review.shifts[k].shift.log_ratio ==
                  Approx(truth[static_cast<std::size_t>(review.record.id) - 1][k].log_ratio)
                      .margin(2e-5));
    }
    for (const plate::WeighedSum& sum : study->fit.weighed_sums)
        CHECK(sum.ratio == Approx(1.0).margin(3.0 * sum.sd));
    const plate::Cut cut{{0.0, 178.0}, 60.0, 0.2};
    const auto alone = try_cut(*before, cut), with = try_cut(*study, cut);
    REQUIRE(alone);
    REQUIRE(with);
    CHECK(alone->by_taps.empty());
    REQUIRE(with->by_taps.size() == with->shifts.size());
    CHECK(with->shifts[2].shift_sd_hz < with->by_taps[2].shift_sd_hz);
    // the true plate's own answer lies within
    const auto then = model.solve(
        thickness - model.thickness_at([&](plate::Point p) { return plate::depth_mm(cut, p); }),
        story.wood, 10, modes.shapes);
    for (std::size_t k = 0; k < 3; ++k) {
        const double seen = then.frequency_hz[indices[k]] - modes.frequency_hz[indices[k]];
        CHECK(std::abs(with->shifts[k].shift_hz - seen) < 1.96 * with->shifts[k].shift_sd_hz);
    }
    CHECK(with->next.size() == with->next_words.size());
    const double ring_hz = with->record.modes.back().now_hz;
    const std::array goals{Goal{5, 0.7 * ring_hz}, Goal{5, ring_hz - 0.5}, Goal{5, 1.1 * ring_hz},
                           Goal{7, 500.0}};
    const auto beyond = beyond_goals(*with, goals);
    REQUIRE(beyond.size() == 3); // of a mode that nobody tapped nothing is said
    CHECK(beyond[0].chance < 1e-4);
    CHECK(beyond[1].chance > 0.01); // near the goal hanging it anew alone may do so
    CHECK(beyond[1].chance < 0.99);
    CHECK(beyond[2].chance > 0.999);
    CHECK(words_of(beyond[2]).find("99 %") != std::string::npos);
    CHECK(with->record.modes.size() == 3);
    for (const plate::Cut& bad :
         {plate::Cut{{400.0, 0.0}, 60.0, 0.2}, plate::Cut{{0.0, 178.0}, 60.0, 0.0},
          plate::Cut{{0.0, 178.0}, 5.0, 0.2}})
        CHECK_FALSE(try_cut(*study, bad));
}
