#include "main/paper/uff_contents.hpp"

#include "base/clock.hpp"
#include "base/failure.hpp"
#include "main/paper/sheet_contents.hpp"
#include "modes/signal/spectrum.hpp"
#include "report/tables/uff_file.hpp"
#include "trends/model/plate_study.hpp"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>
#include <map>

namespace platewright::cli {
namespace {

constexpr double k_highest_hz = 2500.0;

/// The mean over a session's accepted taps; empty where none has its recording.
modes::Spectrum mean_of(const ledger::Store& store, const ledger::SessionHistory& session) {
    std::vector<modes::Spectrum> spectra;
    for (const ledger::TapRecord& record : session.taps) {
        if (!taps::counts(record.verdict) || record.recording.empty())
            continue;
        try {
            const taps::Tap tap = store.load(record);
            spectra.push_back(modes::spectrum(
                std::span(tap.samples).subspan(std::min(tap.onset_index, tap.samples.size())),
                tap.sample_rate_hz, k_highest_hz));
        } catch (const base::Failure&) { // check names it
        }
    }
    return modes::mean_spectrum(spectra);
}

std::string session_line(const ledger::SessionRecord& session) {
    std::string words = fmt::format("Session {}, {}", base::local_date(session.begun),
                                    modes::to_word(session.stage));
    if (session.mass_g)
        words += fmt::format(", mass {:.1f} g", *session.mass_g);
    if (session.temperature_c)
        words += fmt::format(", {:.1f} C", *session.temperature_c);
    if (session.humidity_pct)
        words += fmt::format(", {:.0f} % RH", *session.humidity_pct);
    return words;
}

void add_spectra(report::UffWriter& file, const ledger::Store& store,
                 const ledger::PlateHistory& history, UffText& into) {
    for (const ledger::SessionHistory& session : history.sessions) {
        const modes::Spectrum mean = mean_of(store, session);
        if (mean.level_dbfs.empty())
            continue;
        report::UffFunction function;
        function.about = {fmt::format("Mean spectrum of taps, plate: {}", history.plate.label),
                          session_line(session.session),
                          "Sound at the microphone, amplitude relative to full scale",
                          "Under the falling half of a Hann window; a picture, no measurement", ""};
        function.step_hz = mean.step_hz;
        for (const float level : mean.level_dbfs)
            function.real.push_back(std::pow(10.0, static_cast<double>(level) / 20.0));
        function.heard = {"MICROPHONE", 0, 0, 0, "SOUND", "FULL SCALE"};
        file.add(function);
        ++into.spectra;
    }
}

/// Of critical damping, by the Q that was tapped of the mode of this number.
double damping_of(const ledger::SessionHistory& session, int number) {
    const ledger::ModeRecord* mode = trends::find_mode(session.modes, number);
    return mode != nullptr && mode->mode.q > 0.0 ? 0.5 / mode->mode.q : 0.0;
}

void add_shapes(report::UffWriter& file, const ledger::PlateHistory& history, UffText& into) {
    if (history.plate.part == modes::Part::body || history.sessions.empty()) {
        into.no_shapes = "Only a plate with sessions has a model.";
        return;
    }
    const auto study = trends::study_plate(history, history.sessions.size() - 1);
    if (!study) {
        into.no_shapes = study.fault().what;
        return;
    }
    const plate::PlateModel& model = *(*study).model;
    const Eigen::VectorXd height_mm = model.surface((*study).thickness_mm).outside_mm;
    std::vector<std::array<double, 3>> places;
    for (std::size_t i = 0; i < model.nodes(); ++i)
        places.push_back({1e-3 * model.points()[i].x_mm, 1e-3 * model.points()[i].y_mm,
                          1e-3 * height_mm(static_cast<Eigen::Index>(i))});
    file.nodes(places);
    std::vector<std::array<int, 3>> corners;
    for (const plate::Triangle& triangle : model.shell().mesh().triangles)
        corners.push_back({triangle[0], triangle[1], triangle[2]});
    file.triangles(corners);
    const plate::FittedState& state = (*study).state;
    std::map<Eigen::Index, int> numbers; // of the trade, by the model's mode
    for (const int number : trends::k_steering)
        if (const int index = plate::mode_index(state.names, number); index >= 0)
            numbers[index] = number;
    for (Eigen::Index k = 0; k < state.modes.frequency_hz.size(); ++k) {
        report::UffShape shape;
        const auto found = numbers.find(k);
        shape.about = {
            fmt::format("Mode shape of the fitted model, plate: {}", history.plate.label),
            session_line(history.sessions[(*study).now].session),
            found == numbers.end() ? std::string()
                                   : fmt::format("The trade's mode {}", found->second),
            "x to the right seen from outside, y from the lower end, z outwards; m",
            (*study).fit.doubt};
        shape.number = static_cast<int>(k) + 1;
        shape.frequency_hz = state.modes.frequency_hz(k);
        if (found != numbers.end())
            shape.damping_ratio = damping_of(history.sessions[(*study).now], found->second);
        for (std::size_t i = 0; i < model.nodes(); ++i) {
            std::array<double, 6> freedoms{};
            for (std::size_t d = 0; d < 6; ++d)
                freedoms[d] = state.modes.shapes(static_cast<Eigen::Index>(6 * i + d), k);
            shape.motion.push_back(freedoms);
        }
        file.add(shape);
        ++into.shapes;
    }
}

} // namespace

std::vector<UffText> uff_texts(const ledger::Store& store, const ledger::Progress& progress) {
    std::vector<ledger::Id> plates;
    for (const ledger::InstrumentSummary& one : store.overview())
        for (const ledger::PlateSummary& plate : one.plates)
            plates.push_back(plate.plate.id);
    std::vector<UffText> all;
    for (const ledger::Id id : plates) {
        const auto history = store.history(id);
        if (!history)
            continue;
        UffText one;
        std::string name = file_name_of(history->plate.label);
        const auto taken = [&all](const std::string& wanted) {
            return std::ranges::count(all, wanted, &UffText::name) > 0;
        };
        one.name = name + ".uff";
        for (int again = 2; taken(one.name); ++again)
            one.name = fmt::format("{} ({}).uff", name, again);
        const base::Timestamp newest = history->sessions.empty()
                                           ? history->plate.created
                                           : history->sessions.back().session.begun;
        report::UffWriter file("Plate: " + history->plate.label, "Platewright " PLATEWRIGHT_VERSION,
                               base::local_date(newest));
        add_shapes(file, *history, one);
        add_spectra(file, store, *history, one);
        one.text = file.text();
        all.push_back(std::move(one));
        if (progress)
            progress(static_cast<double>(all.size()) / static_cast<double>(plates.size()));
    }
    return all;
}

} // namespace platewright::cli
