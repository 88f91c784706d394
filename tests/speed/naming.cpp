// Names and tracks over simulated plate histories: frequencies that cross, modes that drop out,
// hold noise, wood coming off unevenly. How many names are given, and how many of those given with
// high confidence are right. The plates come from the published ranges
// (docs/sources.md#hutchins-1981, #king) with a scatter of the bench's own, not from the tables the
// program believes in.
//   speed_naming [HISTORIES]

#include "modes/name/name.hpp"
#include "modes/pool/match.hpp"
#include "support/synth.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdlib>
#include <fmt/core.h>
#include <map>
#include <vector>

namespace {

using namespace platewright;
using taps::Spot;

/// A mode of a simulated plate; number 1 to 8, others 0.
struct TrueMode {
    int number = 0;
    double log_hz = 0, log_q = 0, level_db = 0;
    double exponent = 0.8; // of the plate's mass
    std::map<Spot, double> spot_db;
};

struct Plate {
    modes::Subject subject;
    std::vector<TrueMode> modes;
    double mass_g = 0;
};

constexpr std::array k_struck{Spot::centre, Spot::lower_end, Spot::lower_bout_right};

double spot_level(int number, Spot spot, synth::Normal& normal) {
    const auto around = [&](double db) { return std::min(0.0, db + 4.0 * normal()); };
    switch (number) {
    case 1:
        return spot == Spot::lower_bout_right ? 0.0 : around(-22);
    case 2:
        return spot == Spot::lower_end ? 0.0 : spot == Spot::centre ? around(-11) : around(-6);
    case 5:
        return spot == Spot::centre ? 0.0 : spot == Spot::lower_end ? around(-6) : around(-10);
    default:
        return -14.0 * normal.uniform();
    }
}

Plate with_mass(Plate plate, synth::Normal& normal) {
    const bool top = plate.subject.part == modes::Part::top;
    plate.mass_g = top ? 66.0 + 4.0 * normal() : 100.0 + 5.0 * normal();
    return plate;
}

/// Finished frequencies of modes 1 to 6: the examples in Hutchins 1981 (from memory), scattered.
Plate new_plate(synth::Normal& normal) {
    Plate plate;
    const bool top = normal.uniform() < 0.5;
    plate.subject.kind = modes::InstrumentKind::violin;
    plate.subject.part = top ? modes::Part::top : modes::Part::back;
    const std::array<double, 6> example = top ? std::array<double, 6>{80, 147, 222, 251, 304, 349}
                                              : std::array<double, 6>{116, 167, 222, 230, 349, 403};
    const std::array<double, 6> usual = top ? std::array<double, 6>{85, 152, 225, 255, 335, 385}
                                            : std::array<double, 6>{110, 167, 225, 238, 358, 410};
    const double stiffness = 0.05 * normal();
    const double mix = normal.uniform();
    for (std::size_t i = 0; i < 6; ++i) {
        TrueMode mode;
        mode.number = static_cast<int>(i) + 1;
        const double centre = mix * std::log(example[i]) + (1.0 - mix) * std::log(usual[i]);
        mode.log_hz = centre + stiffness + 0.02 * normal();
        mode.log_q =
            std::log(50.0 + 15.0 * std::min(1.0, static_cast<double>(i) / 4.0)) + 0.12 * normal();
        mode.level_db = i == 4 ? 0.0 : i == 1 ? -5.0 + 2.0 * normal() : -11.0 + 3.0 * normal();
        mode.exponent = i < 2    ? 0.95 + 0.08 * normal()
                        : i == 4 ? 0.55 + 0.08 * normal()
                                 : 0.75 + 0.12 * normal();
        plate.modes.push_back(mode);
    }
    // In three plates of ten, mode 4 comes down through mode 5 as the plate gets thinner.
    if (normal.uniform() < 0.3) {
        plate.modes[3].log_hz = plate.modes[4].log_hz - 0.05 - 0.03 * normal.uniform();
        plate.modes[3].exponent = plate.modes[4].exponent + 0.5;
    }
    for (double hz = std::exp(plate.modes[5].log_hz) * 1.12; hz < 1100;
         hz *= 1.10 + 0.06 * normal.uniform())
        plate.modes.push_back(
            {0, std::log(hz), std::log(70.0), -12.0 + 4.0 * normal(), 0.8 + 0.1 * normal(), {}});
    // Half of the makers don't say where they strike.
    if (normal.uniform() < 0.5)
        return with_mass(plate, normal);
    for (TrueMode& mode : plate.modes)
        for (Spot spot : k_struck)
            mode.spot_db[spot] = spot_level(mode.number, spot, normal);
    return with_mass(plate, normal);
}

/// One session's modes as the analysis would give them; `truth` gets the number of each.
std::vector<modes::Mode> heard(const Plate& plate, double log_thickness, double weather,
                               double drop_out, synth::Normal& normal, std::vector<int>& truth) {
    std::vector<std::pair<modes::Mode, int>> found;
    for (const TrueMode& t : plate.modes) {
        if (normal.uniform() < drop_out)
            continue;
        modes::Mode mode;
        mode.frequency_hz =
            std::exp(t.log_hz + t.exponent * log_thickness + weather + 0.0035 * normal());
        mode.frequency_sd_hz = 0.001 * mode.frequency_hz;
        mode.q = std::exp(t.log_q + 0.05 * normal());
        mode.q_sd = 1.0;
        mode.level_db = std::min(0.0, t.level_db + 1.5 * normal());
        mode.taps = 8;
        for (const auto& [spot, db] : t.spot_db)
            mode.spots.push_back({spot, std::min(0.0, db + 1.5 * normal()), 1.5, 3});
        found.emplace_back(mode, t.number);
    }
    std::sort(found.begin(), found.end(), [](const auto& a, const auto& b) {
        return a.first.frequency_hz < b.first.frequency_hz;
    });
    std::vector<modes::Mode> list;
    truth.clear();
    for (const auto& [mode, number] : found) {
        list.push_back(mode);
        truth.push_back(number);
    }
    return list;
}

struct Score {
    int owed = 0, given = 0, sure = 0, sure_right = 0, given_right = 0, owed_given = 0;
    int pairs = 0, pairs_right = 0;
};

void count_names(const modes::Naming& naming, const std::vector<int>& truth, Score& score) {
    for (std::size_t i = 0; i < truth.size(); ++i) {
        const bool named_kind = truth[i] == 1 || truth[i] == 2 || truth[i] == 5;
        score.owed += named_kind;
        const auto& name = naming.modes[i].name;
        if (!name)
            continue;
        const bool right = name->number == truth[i];
        score.owed_given += named_kind && right;
        ++score.given;
        score.given_right += right;
        if (name->confidence < 0.95)
            continue;
        ++score.sure;
        score.sure_right += right;
    }
}

/// Pairs of a session with the one before, by `match` alone.
void count_pairs(const std::vector<modes::Mode>& before, const std::vector<int>& truth_before,
                 const std::vector<modes::Mode>& now, const std::vector<int>& truth_now,
                 double expected_ratio, Score& score) {
    const modes::MatchGates gates{.frequency_ratio = 0.05, .expected_ratio = expected_ratio};
    for (const modes::Pair& pair : modes::match(before, now, gates)) {
        const int number = truth_before[pair.a];
        if (number == 0)
            continue;
        ++score.pairs;
        score.pairs_right += truth_now[pair.b] == number;
    }
}

/// One plate from rough to finished, each session named with the earlier ones at hand.
void one_history(synth::Normal& normal, Score& score) {
    const Plate plate = new_plate(normal);
    const int sessions = 4 + static_cast<int>(5.0 * normal.uniform());
    const double start = 0.18 + 0.08 * normal.uniform(); // e-folds of mass still to come off
    std::vector<modes::Earlier> earlier;
    std::vector<modes::Mode> list_before;
    std::vector<int> truth_before;
    for (int k = 0; k < sessions; ++k) {
        const double left = start * (1.0 - static_cast<double>(k) / (sessions - 1));
        const double weather = 0.005 * normal(); // 0.5 % from session to session
        std::vector<int> truth;
        const auto list = heard(plate, left, weather, k == 0 ? 0.0 : 0.06, normal, truth);
        modes::Subject subject = plate.subject;
        subject.mass_g = plate.mass_g * std::exp(left);
        subject.stage = left > 0.15   ? modes::Stage::rough
                        : left > 0.01 ? modes::Stage::graduating
                                      : modes::Stage::finished;
        const modes::Naming naming = modes::name_modes(list, subject, earlier);
        count_names(naming, truth, score);
        const double step = start / (sessions - 1);
        count_pairs(list_before, truth_before, list, truth, std::exp(-0.75 * step), score);
        list_before = list;
        truth_before = truth;
        earlier.push_back({naming.modes, subject.stage, subject.mass_g});
    }
}

} // namespace

int main(int count, char** words) {
    const int histories = count > 1 ? std::atoi(words[1]) : 500;
    synth::Normal normal(77);
    Score score;
    for (int i = 0; i < histories; ++i)
        one_history(normal, score);
    fmt::print("{} histories: of {} modes 1, 2 and 5 heard, {:.2f} % got their name\n", histories,
               score.owed, 100.0 * score.owed_given / score.owed);
    fmt::print("names given {}: right {:.2f} %\n", score.given,
               100.0 * score.given_right / score.given);
    fmt::print("given as sure {}: right {:.2f} %\n", score.sure,
               100.0 * score.sure_right / score.sure);
    fmt::print("pairs from session to session {}: right {:.2f} %\n", score.pairs,
               100.0 * score.pairs_right / score.pairs);
    return 0;
}
