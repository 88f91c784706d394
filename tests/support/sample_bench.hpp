#pragma once
#include "bench/snapshot.hpp"

#include <cmath>
#include <memory>

namespace platewright::test {

/// An invented workshop's snapshot, for driving the views without an engine: a violin back with
/// `sessions` sessions, modes 1, 2 and 5 and two without a name, and a reference.
inline modes::Spectrum sample_spectrum(double shift) {
    modes::Spectrum out;
    out.step_hz = 0.5;
    for (int i = 0; i < 5000; ++i) {
        const double hz = i * out.step_hz;
        double amplitude = 3e-5 * (1.3 + std::sin(hz * 1.7) + std::sin(hz * 0.31));
        const double modes_hz[][2] = {{112, 0.5}, {171, 1},    {228, 0.3}, {262, 0.2},
                                      {356, 0.8}, {431, 0.25}, {612, 0.2}};
        for (const auto& [mode_hz, height] : modes_hz) {
            const double off = (hz - mode_hz * shift) / (mode_hz * shift / 120.0);
            amplitude += 0.02 * height / std::sqrt(1.0 + off * off);
        }
        out.level_dbfs.push_back(static_cast<float>(20.0 * std::log10(amplitude)));
    }
    return out;
}

inline modes::Mode sample_mode(double hz, double level_db, int taps) {
    modes::Mode mode;
    mode.frequency_hz = hz;
    mode.frequency_sd_hz = 0.1;
    mode.spread_hz = 0.0025 * hz;
    mode.q = 64;
    mode.q_sd = 2;
    mode.level_db = level_db;
    mode.taps = taps;
    return mode;
}

inline std::shared_ptr<bench::PlateView> sample_plate(int sessions) {
    auto view = std::make_shared<bench::PlateView>();
    view->history.instrument = {1,  "Larkfield 7",         modes::InstrumentKind::violin,
                                {}, "An invented violin.", {}};
    view->history.plate = {1,  1, modes::Part::back, "back", "maple, quarter-cut (invented)", 610.0,
                           "", {}};
    const double base_hz[] = {112, 171, 356, 228, 431};
    const int numbers[] = {1, 2, 5, 0, 0};
    view->drift.tracks.resize(5);
    for (int i = 0; i < sessions; ++i) {
        ledger::SessionHistory session;
        session.session.id = i + 1;
        session.session.plate = 1;
        session.session.begun.ms_since_epoch = 1893456000000 + 3LL * 86400000 * i;
        session.session.stage = i < 3 ? modes::Stage::rough : modes::Stage::graduating;
        session.session.mass_g = 130.0 - 3.6 * i;
        session.session.temperature_c = 20.5;
        session.session.humidity_pct = 48;
        const double shift = 1.0 + 0.03 * (sessions - 1 - i);
        for (int t = 0; t < 7; ++t) {
            ledger::TapRecord tap;
            tap.id = 100 * i + t + 1;
            tap.session = i + 1;
            tap.peak_dbfs = -9;
            tap.verdict = t == 3 ? taps::Verdict::struck_twice : taps::Verdict::accepted;
            session.taps.push_back(tap);
        }
        for (int m = 0; m < 5; ++m) {
            ledger::ModeRecord record;
            record.mode =
                sample_mode(base_hz[m] * shift + std::sin(i * 3.0 + m), m == 1 ? 0 : -6, 6);
            if (numbers[m] != 0) {
                record.name = modes::ModeName{numbers[m], numbers[m] == 1 ? 0.87 : 0.98, false};
            }
            auto& track = view->drift.tracks[static_cast<std::size_t>(m)].track;
            track.name = record.name;
            track.points.push_back(
                {static_cast<std::size_t>(i), static_cast<std::size_t>(m), record.mode, 1});
            session.modes.push_back(record);
        }
        view->history.sessions.push_back(session);
        view->drift.ratio_5_to_2.push_back(356.0 / 171.0);
    }
    if (sessions > 0) {
        view->session = sessions;
        for (const auto& record : view->history.sessions.back().modes) {
            view->naming.modes.push_back({record.mode, record.name});
        }
        for (std::size_t m = 0; m < 3; ++m) {
            bench::ModeView figure;
            figure.number = numbers[m];
            figure.now = view->naming.modes[m];
            if (sessions > 1) {
                trends::TrackDrift& track = view->drift.tracks[m];
                track.since_last =
                    trends::Change{-3.4 + static_cast<double>(m), 0.6, -17, -3.6, 0.9};
                track.steps.assign(track.track.points.size() - 1, *track.since_last);
                track.since_beginning = trends::Change{-31.2, 0.6, -150, -28.8, 1.1};
            }
            view->figures.push_back(figure);
        }
        view->last_tap = bench::SpectrumView{"last tap", sessions, sample_spectrum(1.0)};
        view->session_mean = bench::SpectrumView{"this session", sessions, sample_spectrum(1.002)};
        for (int i = sessions - 1; i > 0 && i > sessions - 4; --i) {
            view->ghosts.push_back(
                {"session " + std::to_string(i), i, sample_spectrum(1.0 + 0.03 * (sessions - i))});
        }
    }
    return view;
}

/// Sets the sample plate against an invented reference.
inline void compare_with_reference(bench::PlateView& view) {
    view.reference = ledger::ReferenceRecord{1, 99, "Larkfield 3, back: the one that sang"};
    view.reference_label = view.reference->label;
    view.reference_mean = bench::SpectrumView{"reference", 99, sample_spectrum(0.97)};
    trends::Comparison comparison;
    for (auto& figure : view.figures) {
        trends::ComparedMode mode;
        mode.number = figure.number;
        mode.plate = figure.now->mode;
        mode.reference = sample_mode(mode.plate->frequency_hz * 0.97, -3, 8);
        mode.hz = mode.plate->frequency_hz - mode.reference->frequency_hz;
        mode.hz_sd = 0.8;
        mode.cents = 52.7;
        mode.q_ratio = 1.04;
        mode.beyond_spread = figure.number != 1;
        comparison.modes.push_back(mode);
    }
    comparison.plate_ratio_5_to_2 = 2.082;
    comparison.reference_ratio_5_to_2 = 2.101;
    comparison.mass_g = 4.2;
    view.comparison = comparison;
}

inline bench::Snapshot sample_snapshot(std::shared_ptr<bench::PlateView> plate) {
    bench::Snapshot now;
    now.revision = 1;
    now.input = {.state = bench::InputState::running,
                 .name = "ALSA: desk microphone",
                 .sample_rate_hz = 48000,
                 .level_dbfs = -31,
                 .noise_dbfs = -64};
    now.inputs = {{"ALSA: desk microphone", 2, 48000, true}, {"ALSA: line in", 2, 44100, false}};
    now.chosen = {"ALSA: desk microphone", 0, 0};
    auto instruments = std::make_shared<std::vector<ledger::InstrumentSummary>>();
    if (plate) {
        ledger::InstrumentSummary one{plate->history.instrument, {}};
        ledger::PlateSummary back{
            plate->history.plate, static_cast<int>(plate->history.sessions.size()), {}};
        if (!plate->history.sessions.empty()) {
            back.newest = plate->history.sessions.back().session;
            now.tap = bench::TapView{.record = plate->history.sessions.back().taps.back(),
                                     .fate = bench::TapFate::kept,
                                     .named = {},
                                     .why_not_kept = {},
                                     .answered = std::chrono::steady_clock::now()};
        }
        one.plates.push_back(back);
        instruments->push_back(one);
        instruments->push_back(
            {{2, "Larkfield 3", modes::InstrumentKind::violin, {}, "invented", {}},
             {{{2, 2, modes::Part::top, "top", "spruce", {}, "", {}}, 0, {}}}});
        now.references.push_back({1, 99, "Larkfield 3, back: the one that sang"});
    }
    now.instruments = instruments;
    now.plate = plate;
    return now;
}

/// Everything a plate can show at once.
inline std::shared_ptr<bench::PlateView> full_plate() {
    auto plate = sample_plate(9);
    compare_with_reference(*plate);
    plate->naming.doubt.sentence =
        "It is not sure whether mode 5 (ring) is at 352.8 Hz or at 404.5 Hz; a tap at "
        "the centre would settle it.";
    plate->naming.doubt.ask_spot = taps::Spot::centre;
    plate->partner = bench::Partner{modes::Part::top, "top", 152.3, 338.4, 71.2};
    // A line through 110 g with 3 Hz a gram, as trends::forecast would give it.
    for (std::size_t m = 0; m < plate->figures.size(); ++m) {
        trends::Forecast forecast;
        forecast.mass_g = *plate->history.sessions.back().session.mass_g;
        forecast.hz = plate->figures[m].now->mode.frequency_hz;
        forecast.hz_per_g = 3.0;
        forecast.hz_per_g_sd = 0.3;
        forecast.sessions = 9;
        forecast.step_on =
            trends::Interval{forecast.hz - 3.0, forecast.hz - 4.2, forecast.hz - 1.8};
        plate->drift.tracks[m].forecast = forecast;
    }
    // The longest that a decision is said in.
    plate->goals = {{5, 349.0, false}};
    plate->decision = {.advice = trends::Advice::take,
                       .number = 5,
                       .now_hz = 352.8,
                       .doubt_hz = 2.4,
                       .goal_hz = 349.0,
                       .take_g = 0.5,
                       .grams = trends::Interval{1.3, 0.4, 2.9},
                       .by_history = true,
                       .usual_pass_g = 3.1,
                       .past_it = 0.87};
    return plate;
}

/// A tap of the newest of nine sessions, looked into.
inline std::shared_ptr<bench::TapStudy> sample_study() {
    auto study = std::make_shared<bench::TapStudy>();
    study->tap = 801;
    study->session = 9;
    study->heard = sample_spectrum(1.0);
    study->fitted = sample_spectrum(1.001);
    study->left = sample_spectrum(1.2);
    study->left_db = -31.4;
    return study;
}

} // namespace platewright::test
