// The demo workshop's own tables (sample-audio/manifest.json, invented) as histories: which mode is
// which through nine sessions is known there, and no recording need be analysed.
#include "plate/plan/sensitivity.hpp" // scaled
#include "support/catch.hpp"
#include "trends/drift/drift.hpp"
#include "trends/model/plate_form.hpp"
#include "trends/model/plate_study.hpp"
#include "trends/review/map_review.hpp"

#include <cmath>
#include <fstream>
#include <nlohmann/json.hpp>
#include <sstream>

using namespace platewright;
using namespace platewright::trends;

namespace {

ledger::PlateHistory history_of(const std::string& plate) {
    std::ifstream file{PLATEWRIGHT_SOURCE_DIR "/sample-audio/manifest.json"};
    const auto manifest = nlohmann::json::parse(file);
    ledger::PlateHistory history;
    for (const auto& recording : manifest.at("recordings")) {
        if (recording.at("plate") != plate)
            continue;
        history.plate.part = *modes::part_from_word(recording.at("part").get<std::string>());
        ledger::SessionHistory session;
        session.session.stage = *modes::stage_from_word(recording.at("stage").get<std::string>());
        session.session.mass_g = recording.at("mass_g").get<double>();
        session.session.temperature_c = recording.at("temperature_c").get<double>();
        session.session.humidity_pct = recording.at("humidity_pct").get<double>();
        for (const auto& sounded : recording.at("modes")) {
            ledger::ModeRecord record;
            record.mode.frequency_hz = sounded.at("sounded_hz").get<double>();
            record.mode.q = sounded.at("sounded_q").get<double>();
            record.mode.taps = 11;
            session.modes.push_back(record);
        }
        history.sessions.push_back(session);
    }
    return history;
}

} // namespace

TEST_CASE("the demo's back: fourteen modes, each one track through all nine sessions") {
    const ledger::PlateHistory history = history_of("Wren back");
    REQUIRE(history.sessions.size() == 9);
    const std::vector<Track> tracks = follow(history);
    REQUIRE(tracks.size() == 14);
    for (std::size_t i = 0; i < tracks.size(); ++i) {
        REQUIRE(tracks[i].points.size() == 9);
        for (const TrackPoint& point : tracks[i].points)
            CHECK(point.mode == i);
    }
}

TEST_CASE(
    "the demo's top: its modes are followed across f-holes and bar, and the bar's new one begins") {
    const ledger::PlateHistory history = history_of("Wren top");
    REQUIRE(history.sessions.size() == 2);
    const std::size_t before = history.sessions[0].modes.size();
    const std::size_t after = history.sessions[1].modes.size();
    const std::vector<Track> tracks = follow(history);
    std::size_t followed = 0;
    for (const Track& track : tracks)
        followed += track.points.size() == 2 ? 1U : 0U;
    CHECK(followed == std::min(before, after));
    // Modes 1, 2 and 5 are the first, second and fifth of both tables.
    for (const std::size_t mode : {0U, 1U, 4U}) {
        bool same = false;
        for (const Track& track : tracks)
            same |= track.points.size() == 2 && track.points[0].mode == mode &&
                    track.points[1].mode == mode;
        CHECK(same);
    }
}

TEST_CASE("each session of the demo's back falls into the forecast from those before it, as often "
          "as is said") {
    ledger::PlateHistory history = history_of("Wren back");
    const std::vector<Track> tracks = follow(history);
    int held = 0, asked = 0;
    constexpr std::size_t k_wet_day = 6; // the seventh session is no ordinary one
    for (std::size_t next = 4; next < 9; ++next) {
        if (next == k_wet_day)
            continue;
        ledger::PlateHistory past = history;
        past.sessions.resize(next);
        for (Track track : tracks) {
            const double measured = track.points[next].value.frequency_hz;
            track.points.resize(next);
            const auto outlook = forecast(track, past);
            REQUIRE(outlook);
            const Interval range = hz_at(*outlook, *history.sessions[next].session.mass_g);
            ++asked;
            held += range.low < measured && measured < range.high ? 1 : 0;
        }
    }
    CAPTURE(held, asked);
    // Modes of one session share its air and its hold: 56 forecasts are not 56 trials.
    CHECK(held >= 0.80 * asked);
}

namespace {

// The sessions' readings (sample-audio/<plate>-<n>.csv), and modes 1, 2 and 5 by name: in the
// tables they are the first, second and fifth.
void measure(ledger::PlateHistory& history, const std::string& file) {
    const auto outline = outline_of(*history.form);
    for (std::size_t i = 0; i < history.sessions.size(); ++i) {
        ledger::SessionHistory& session = history.sessions[i];
        std::ostringstream text;
        text << std::ifstream{PLATEWRIGHT_SOURCE_DIR "/sample-audio/" + file + "-" +
                              std::to_string(i + 1) + ".csv"}
                    .rdbuf();
        session.thickness.readings = *plate::thickness_from_csv(text.str(), *outline);
        for (const auto& [index, number] : {std::pair{0U, 1}, std::pair{1U, 2}, std::pair{4U, 5}})
            session.modes.at(index).name = modes::ModeName{number, 1.0, false};
    }
}

} // namespace

TEST_CASE("the demo's backs have maps with which one plausible wood has their modes and mass") {
    ledger::PlateHistory history = history_of("Wren back");
    history.form = usual_form(ledger::InstrumentRecord{});
    history.form->species = "red_maple";
    measure(history, "wren-back");
    const auto study = study_plate(history, 8);
    REQUIRE(study);
    CHECK(study->fitted.size() == 9);
    CHECK(study->fit.status == plate::FitStatus::ok);
    INFO(study->fit.doubt);
    CHECK(study->fit.is_plausible);
    // The demo's maps were made to its frequencies as measured. The fit is in one air: what the air
    // moved, 4 % of mode 1 in the dampest session, stands over.
    for (const auto& residual : study->fit.residuals)
        if (residual.row == plate::FitRow::mode)
            CHECK(residual.modelled == Approx(residual.measured).epsilon(0.045));
    for (std::size_t i = 1; i < history.sessions.size(); ++i) {
        const auto review = review_map(history, i);
        REQUIRE(review);
        // wood came off, as much as the scales say, to the error of two means of readings
        CHECK(review->change->mean_mm > 0.0);
        CHECK(*review->change->map_g == Approx(*review->change->scales_g).margin(0.8));
    }
}

TEST_CASE("the demo's top has maps with which a plausible wood has its modes and mass, before "
          "f-holes and bar and with them") {
    ledger::PlateHistory history = history_of("Wren top");
    history.form = usual_form(ledger::InstrumentRecord{});
    history.form->species = "norway_spruce";
    history.form->arching = {15.0, 4.0, 3.0, 1.8};
    measure(history, "wren-top");
    for (std::size_t i = 0; i < 2; ++i) {
        const auto study = study_plate(history, i);
        REQUIRE(study);
        INFO("session " << i + 1 << ": " << study->fit.doubt);
        CHECK(study->fit.status == plate::FitStatus::ok);
        CHECK(study->fit.is_plausible);
        CHECK(study->model->form().bar.has_value() == (i == 1));
        for (const auto& name : study->state.names)
            CHECK(name.sure);
        // and with the wood it was made from (wood_stock.py: Spruce 12) the first six as they are
        const auto handbook = plate::find_species("norway_spruce")->wood;
        auto wood = plate::scaled(handbook, {std::log(12.9 / handbook.e_l_gpa),
                                             std::log(0.88 / handbook.e_r_gpa),
                                             std::log(0.72 / handbook.g_lr_gpa), 0.0});
        wood.density_kg_m3 = 408.0;
        // in a world without air
        const plate::PlateModel in_vacuum(study->model->form());
        const auto made = in_vacuum.solve(study->thickness_mm, {wood, wood}, 6);
        for (std::size_t k = 0; k < 6; ++k) // the hold alone shifts a mode by 0.25 %
            CHECK(made.frequency_hz[static_cast<Eigen::Index>(k)] ==
                  Approx(history.sessions[i].modes.at(k).mode.frequency_hz).epsilon(0.01));
        CHECK(study->model->mass_g(study->thickness_mm, {wood, wood}) ==
              Approx(*history.sessions[i].session.mass_g).epsilon(0.01));
    }
}
