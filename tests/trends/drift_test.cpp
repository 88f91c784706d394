#include "base/interval.hpp"
#include "support/catch.hpp"
#include "trends/drift/drift.hpp"
#include "trends/drift/repeatability.hpp"
#include "trends/plate_story.hpp"

using namespace platewright;
using namespace platewright::trends;
using namespace platewright::test;

namespace {

ledger::PlateHistory story(KnownPlate& plate, std::initializer_list<double> masses) {
    ledger::PlateHistory history;
    history.plate.part = plate.part;
    for (const double mass : masses)
        history.sessions.push_back(plate.session(mass));
    return history;
}

KnownPlate one_mode(double exponent, double scatter = 0.0) {
    KnownPlate plate;
    plate.modes = {{350.0, exponent}};
    plate.scatter = scatter;
    return plate;
}

} // namespace

TEST_CASE("drift is told in Hz, cents and by the gram, since the last session and the first") {
    KnownPlate plate;
    plate.modes = {{160.0, 1.0}, {350.0, 0.5}};
    ledger::PlateHistory history = story(plate, {121.0, 110.0, 100.0});
    for (auto& session : history.sessions) {
        name(session, 160.0 * *session.session.mass_g / 100.0, 2);
        name(session, 350.0, 5);
    }
    const Drift result = drift(history);
    REQUIRE(result.tracks.size() == 2);
    const TrackDrift& cross = result.tracks[0];
    REQUIRE(cross.since_last);
    CHECK(cross.since_last->hz == Approx(-16.0));
    CHECK(cross.since_last->mass_g == Approx(-10.0));
    CHECK(*cross.since_last->hz_per_g == Approx(1.6));
    CHECK(cross.since_last->cents == Approx(1200.0 * std::log2(100.0 / 110.0)));
    CHECK(cross.since_beginning->hz == Approx(-33.6));
    CHECK(cross.steps.size() == 2);
    CHECK(result.ratio_5_to_2[0] == Approx(350.0 * 1.1 / (160.0 * 1.21)));
    CHECK(result.ratio_5_to_2[2] == Approx(350.0 / 160.0));
    CHECK_FALSE(result.moisture_pct[0]);
}

TEST_CASE("a change counts the hold, which no number of taps in one session can show") {
    KnownPlate plate = one_mode(0.0);
    ledger::PlateHistory history = story(plate, {100.0, 100.0});
    for (auto& session : history.sessions)
        session.modes[0].mode.frequency_sd_hz = 0.0;
    // Common practice, no source: half a percent between two sessions.
    CHECK(drift(history).tracks[0].since_last->hz_sd == Approx(0.005 * 350.0).epsilon(0.02));
    CHECK_FALSE(drift(history).tracks[0].since_last->hz_per_g);
}

TEST_CASE("a mode missing from the newest session has no change since the last") {
    KnownPlate plate;
    plate.modes = {{110, 1}, {160, 1}, {250, 1}, {350, 1}};
    ledger::PlateHistory history = story(plate, {120, 115});
    history.sessions.push_back(plate.session(110, {3}));
    const Drift result = drift(history);
    REQUIRE(result.tracks.size() == 4);
    CHECK(result.tracks[0].since_last);
    CHECK_FALSE(result.tracks[3].since_last);
    CHECK_FALSE(result.tracks[3].since_beginning);
    CHECK(result.tracks[3].steps.size() == 1);
}

TEST_CASE("a wetter day is set beside the drift, and the measured figures stay as they are") {
    KnownPlate plate = one_mode(0.0);
    ledger::PlateHistory history = story(plate, {100.0, 100.0});
    history.sessions[0].session.temperature_c = history.sessions[1].session.temperature_c = 20.0;
    history.sessions[0].session.humidity_pct = 45.0;
    CHECK_FALSE(drift(history).tracks[0].since_last->air);
    history.sessions[1].session.humidity_pct = 60.0;
    const Drift result = drift(history);
    REQUIRE(result.tracks[0].since_last->air);
    CHECK(result.tracks[0].since_last->hz == Approx(0.0).margin(1e-9));
    CHECK(result.tracks[0].since_last->air->moisture_pct ==
          Approx(*result.moisture_pct[1] - *result.moisture_pct[0]));
    CHECK(result.tracks[0].since_last->air->cents.high < 0.0);
}

TEST_CASE("the forecast of a mode that follows a power of its mass is exact") {
    KnownPlate plate = one_mode(0.7);
    const ledger::PlateHistory history = story(plate, {130, 124, 117, 111, 104});
    const auto outlook = forecast(follow(history)[0], history);
    REQUIRE(outlook);
    const auto law = [](double mass) { return 350.0 * std::pow(mass / 100.0, 0.7); };
    CHECK(outlook->sessions == 5);
    CHECK(outlook->mass_g == 104);
    CHECK(outlook->hz == Approx(law(104)));
    CHECK(outlook->hz_per_g == Approx(0.7 * law(104) / 104));
    CHECK(hz_at(*outlook, 95).value == Approx(law(95)));
    const auto grams = grams_to(*outlook, law(95));
    REQUIRE(grams);
    CHECK(grams->value == Approx(9.0));
    CHECK_FALSE(grams_to(*outlook, law(110)));
}

// It said "1 g less: 90.0 (90.0 to 90.1)" beside 90.0 ± 0.6 as measured.
TEST_CASE("a forecast from sessions on a line by luck is no surer than what a session measures") {
    KnownPlate plate = one_mode(0.7);
    for (const std::initializer_list<double> masses :
         {std::initializer_list<double>{130, 127, 124}, {130, 124, 117, 111, 104}}) {
        const ledger::PlateHistory history = story(plate, masses);
        const Track track = follow(history)[0];
        const auto outlook = forecast(track, history);
        REQUIRE(outlook);
        const Interval next = hz_at(*outlook, outlook->mass_g - 1.0);
        const double as_measured = base::plus_minus(session_sd_hz(track.points.back().value));
        CHECK(next.high - next.value >= 0.99 * as_measured);
        CHECK(next.value - next.low >= 0.99 * as_measured);
    }
}

// "117.7 ± 0.8" of the last tapped session stood over "1 g less: 112.6", which was counted from a
// newer mass that had not been tapped.
TEST_CASE("what a gram less does is told with the mass that it is counted from") {
    KnownPlate plate = one_mode(0.7);
    ledger::PlateHistory history = story(plate, {130, 124, 117, 111});
    CHECK(told_step_words(drift(history)) == "1 g less than 111.0 g");
    history.sessions.push_back(plate.session(104, {0})); // weighed, and not tapped yet
    CHECK(told_step_words(drift(history)) == "1 g less than 104.0 g");
    history.sessions.resize(2); // too few for a forecast
    CHECK(told_step_words(drift(history)) == "1 g less");
}

// With 1.96 deviations in place of Student's t some 70 % hold: three sessions hardly tell a
// scatter.
TEST_CASE("from three sessions what a gram does lies within its interval nine times in ten") {
    KnownPlate plate = one_mode(0.7, 0.0035);
    int held = 0;
    constexpr int k_histories = 400;
    for (int i = 0; i < k_histories; ++i) {
        const ledger::PlateHistory history = story(plate, {120, 117, 114});
        const auto outlook = forecast(follow(history)[0], history);
        REQUIRE(outlook);
        const double truly = 0.7 * 350.0 * std::pow(1.14, 0.7) / 114.0;
        held +=
            std::abs(outlook->hz_per_g - truly) <= base::plus_minus(outlook->hz_per_g_sd) ? 1 : 0;
    }
    CHECK(held >= 0.9 * k_histories);
}

TEST_CASE("the ends of the grams' interval are where the frequency's interval meets the target") {
    KnownPlate plate = one_mode(0.7, 0.004);
    const ledger::PlateHistory history = story(plate, {130, 124, 117, 111, 104, 101});
    const auto outlook = forecast(follow(history)[0], history);
    REQUIRE(outlook);
    const auto grams = grams_to(*outlook, 325.0);
    REQUIRE(grams);
    REQUIRE(grams->low > 0.0);
    REQUIRE(grams->high < outlook->mass_g);
    CHECK(hz_at(*outlook, outlook->mass_g - grams->value).value == Approx(325.0));
    CHECK(hz_at(*outlook, outlook->mass_g - grams->low).low == Approx(325.0));
    CHECK(hz_at(*outlook, outlook->mass_g - grams->high).high == Approx(325.0));
}

TEST_CASE(
    "grams are told in steps that suit the plate: one of a violin's, ten of a double bass's") {
    CHECK(trends::told_step_g(60.0) == 1.0);
    CHECK(trends::told_step_g(130.0) == 1.0);
    CHECK(trends::told_step_g(1630.0) == 10.0);
    CHECK(trends::told_step_g(12.0) == 1.0);
}

TEST_CASE("one odd session is named and does not bend the forecast") {
    KnownPlate plate = one_mode(0.7, 0.0005);
    ledger::PlateHistory history = story(plate, {130, 124, 117, 111, 104, 101});
    history.sessions[2].modes[0].mode.frequency_hz *= 0.975;
    const auto outlook = forecast(follow(history)[0], history);
    REQUIRE(outlook);
    CHECK(outlook->odd_sessions == std::vector<std::size_t>{2});
    CHECK(outlook->sessions == 5);
    CHECK(hz_at(*outlook, 95).value == Approx(350.0 * std::pow(0.95, 0.7)).epsilon(0.002));
}

TEST_CASE("a slope that may as well be none gives an interval without an end") {
    KnownPlate plate = one_mode(0.0, 0.004);
    plate.random.seed(4);
    const ledger::PlateHistory history = story(plate, {104, 103, 102, 101});
    const auto outlook = forecast(follow(history)[0], history);
    REQUIRE(outlook);
    const double aside = outlook->hz_per_g > 0 ? 0.999 : 1.001;
    const auto grams = grams_to(*outlook, outlook->hz * aside);
    REQUIRE(grams);
    CHECK(grams->low == 0.0);
    CHECK(grams->high == outlook->mass_g);
}

TEST_CASE("too little to go on gives no forecast") {
    KnownPlate plate = one_mode(0.7);
    const auto outlook = [&](const ledger::PlateHistory& history) {
        return forecast(follow(history)[0], history);
    };
    CHECK_FALSE(outlook(story(plate, {110, 105})));
    CHECK_FALSE(outlook(story(plate, {100.4, 100.2, 100.0})));
    ledger::PlateHistory unweighed = story(plate, {110, 105, 100});
    unweighed.sessions[1].session.mass_g.reset();
    CHECK_FALSE(outlook(unweighed));
    CHECK_FALSE(forecast(Track{}, ledger::PlateHistory{}));
    CHECK_THROWS_AS(hz_at(*outlook(story(plate, {110, 105, 100})), 0.0), std::invalid_argument);
}

TEST_CASE("a top's forecast begins anew with its f-holes and with its bar") {
    KnownPlate plate = one_mode(0.7);
    plate.part = modes::Part::top;
    ledger::PlateHistory history = story(plate, {72, 70, 68, 66, 69, 68, 67});
    for (std::size_t i = 0; i < history.sessions.size(); ++i)
        history.sessions[i].session.stage =
            i < 4 ? modes::Stage::graduating : modes::Stage::bar_fitted;
    history.plate.part = modes::Part::top;
    for (std::size_t i = 4; i < history.sessions.size(); ++i)
        history.sessions[i].modes[0].mode.frequency_hz *= 0.93;
    const auto outlook = forecast(follow(history)[0], history);
    REQUIRE(outlook);
    CHECK(outlook->sessions == 3);
    CHECK(hz_at(*outlook, 65).value == Approx(0.93 * 350.0 * std::pow(0.65, 0.7)));
}

// A bar trimmed, and one glued anew: lasting steps of -10.3 and +16 Hz of mode 5 before the last,
// the last but one or the last but two of nine sessions, 100 plates each. From the second session
// after it the forecast is as sure as without; the first may yet be an odd one, and the interval
// holds both.
TEST_CASE("a lasting step spoils no forecast: its level is the newest sessions', and it is said") {
    std::mt19937_64 random{13};
    std::normal_distribution<double> normal;
    std::uniform_real_distribution<double> uniform;
    for (const double step_hz : {-10.3, 16.0})
        for (const std::size_t after : {1U, 2U, 3U}) {
            int held = 0, noticed = 0, odd_newest = 0;
            constexpr int k_histories = 100;
            for (int i = 0; i < k_histories; ++i) {
                KnownPlate plate = one_mode(0.7, 0.003);
                plate.random.seed(random());
                std::vector<double> masses;
                double mass = 130.0;
                for (int k = 0; k < 10; ++k, mass -= 1.5 + 3.0 * uniform(random))
                    masses.push_back(mass);
                ledger::PlateHistory history;
                for (const double m : masses)
                    history.sessions.push_back(plate.session(m));
                const std::size_t from = 9 - after;
                for (std::size_t k = from; k < 10; ++k)
                    history.sessions[k].modes[0].mode.frequency_hz += step_hz;
                const double next = history.sessions[9].modes[0].mode.frequency_hz;
                history.sessions.pop_back();
                const auto outlook = forecast(follow(history)[0], history);
                REQUIRE(outlook);
                const Interval range = hz_at(*outlook, masses[9]);
                held += range.low < next && next < range.high ? 1 : 0;
                noticed += std::ranges::any_of(outlook->steps, [&](const ForecastStep& s) {
                    return s.session == from && s.hz * step_hz > 0.0;
                });
                odd_newest += std::ranges::count(outlook->odd_sessions, std::size_t{8}) > 0 ? 1 : 0;
            }
            CAPTURE(step_hz, after, held, noticed, odd_newest);
            CHECK(held >= (after == 1 ? 0.75 : 0.88) * k_histories);
            if (after == 3)
                CHECK(noticed >= 0.75 * k_histories);
            if (after > 1)
                CHECK(odd_newest <= 0.1 * k_histories);
        }
}

// Issue 6's bar. 500 plates of five to nine sessions, each mode's scatter from session to session
// 0.2 to 0.6 % (common practice, no source: half a percent), one session in ten odd by 2 % or more
// (a wet day, a wrong hold). The next session is an ordinary one.
TEST_CASE("over 500 simulated histories the 95 % interval covers 92 to 98 %") {
    std::mt19937_64 random{6};
    std::normal_distribution<double> normal;
    std::uniform_real_distribution<double> uniform;
    const auto between = [&](double low, double high) {
        return low + (high - low) * uniform(random);
    };
    int held = 0, grams_held = 0, grams_asked = 0;
    constexpr int k_histories = 500;
    for (int i = 0; i < k_histories; ++i) {
        const double exponent = between(0.4, 1.2), scatter = between(0.002, 0.006);
        const auto law = [&](double mass) {
            return 350.0 * std::pow(mass / 100.0, exponent) * std::exp(scatter * normal(random));
        };
        ledger::PlateHistory history;
        Track track;
        double mass = between(110.0, 135.0);
        const auto sessions = static_cast<std::size_t>(5 + random() % 5);
        for (std::size_t k = 0; k < sessions; ++k) {
            ledger::SessionHistory session;
            session.session.mass_g = mass;
            const double odd = uniform(random) < 0.1 ? between(-0.04, -0.02) : 0.0;
            track.points.push_back({k, 0, {}, 1.0});
            track.points.back().value.frequency_hz = law(mass) * (1.0 + odd);
            history.sessions.push_back(session);
            mass -= between(1.5, 5.0);
        }
        const auto outlook = forecast(track, history);
        REQUIRE(outlook);
        const Interval next = hz_at(*outlook, mass);
        const double measured = law(mass);
        held += next.low < measured && measured < next.high ? 1 : 0;
        if (const auto grams = grams_to(*outlook, measured)) {
            ++grams_asked;
            const double taken = outlook->mass_g - mass;
            grams_held += grams->low <= taken && taken <= grams->high ? 1 : 0;
        }
    }
    CAPTURE(held, grams_asked, grams_held);
    CHECK(held >= 0.92 * k_histories);
    CHECK(held <= 0.98 * k_histories);
    CHECK(grams_asked > 450);
    CHECK(grams_held >= 0.92 * grams_asked);
    CHECK(grams_held <= 0.985 * grams_asked);
}
