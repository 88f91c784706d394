// What typed heights make of an arch that is none of the model's, and of the wood that is fitted on
// it. Plates 1 to 14 are under shapes(), 15 to 20 under left_out(), which no prior was chosen on.
//   arch_heights surface [FIRST LAST [DRAWS]]  true wood and thickness on the surface made from the
//       heights, beside the same shell on the very surface: how far each mode is off, and how far
//       it was said to be
//   arch_heights wood [FIRST LAST [TRUTHS]]    the wood that is fitted, beside the true one; modes
//       by CalculiX, in the file TRUTHS where they are there already
#include "arch_judges.hpp"
#include "plate/plan/rehearsal.hpp"

#include <cstdio>
#include <cstdlib>
#include <fstream>
#include <iomanip>
#include <map>
#include <sstream>

namespace {

using namespace platewright;
using namespace platewright::plate;
using namespace archings;

using Key = std::pair<bool, int>; // is a top, heights

double square(double x) { return x * x; }
const char* side_of(bool is_top) { return is_top ? "top" : "back"; }

struct Spread { // of errors and of what was said of them
    double of = 0.0, off = 0.0, stated = 0.0, deviations = 0.0, held = 0.0;
    void add(double error, double sd) {
        of += 1.0;
        off += square(error);
        stated += square(sd);
        deviations += square(error / sd);
        held += std::abs(error) < 1.96 * sd ? 1.0 : 0.0;
    }
    void tell(const char* name) const {
        std::printf("; %s off %.2f, said %.2f (95 %%: %.0f %%, rms %.2f deviations)", name,
                    std::sqrt(off / of), std::sqrt(stated / of), 100.0 * held / of,
                    std::sqrt(deviations / of));
    }
};

void surfaces(int first, int last, int draws) {
    std::map<Key, std::array<Spread, 3>> all;
    for (int number = first; number <= last; ++number)
        for (int draw = 1; draw <= draws; ++draw) {
            std::mt19937 random;
            const Judged plate = judged(number, draw, random);
            const ExactShell exact(plate, PlateModel::k_fineness);
            const auto modes = exact.modes([](Point) { return 0.0; });
            const auto names = ShapeJudge(exact.model).names(modes.shapes);
            for (const int heights : {0, 5, 15, 42}) {
                std::mt19937 alike(random);
                const PlateModel model(typed_form(plate, heights, alike));
                PlateGuess known;
                known.wood = plate.wood;
                const auto state = fitted_state(model, known, model.thickness_at([&](Point p) {
                    return plate.thickness_mm(p);
                }));
                for (std::size_t k = 0; k < 3; ++k) {
                    const int is = mode_index(state.names, k_named[k]);
                    const int was = mode_index(names, k_named[k]);
                    if (is < 0 || was < 0)
                        continue;
                    const double hz = state.modes.frequency_hz[is];
                    const ArchShift slope = state.by_unknown.col(is).tail<k_arch_unknowns>();
                    all[{plate.is_top, heights}][k].add(
                        100.0 * (hz / modes.frequency_hz[was] - 1.0),
                        100.0 * std::sqrt(slope.dot(model.arching().covariance() * slope)) / hz);
                }
            }
        }
    for (const auto& [key, modes] : all) {
        std::printf("%-4s %2d heights, %%", side_of(key.first), key.second);
        for (std::size_t k = 0; k < 3; ++k)
            modes[k].tell(("mode " + std::to_string(k_named[k])).c_str());
        std::printf("\n");
    }
}

Seen truth_of(const Judged& plate, int number, const std::string& file) {
    const PlateModel namer({plate.outline, {plate.shape.arch_mm, 4.0}, {}, {}, {}});
    std::ifstream in(file);
    for (std::string line; std::getline(in, line);) {
        std::istringstream words(line);
        int is = 0;
        Seen seen;
        words >> is >> seen.named[0] >> seen.named[1] >> seen.named[2];
        for (double hz = 0.0; words >> hz;)
            seen.others.push_back(hz);
        if (is == number)
            return seen;
    }
    const Seen seen = solid_judge(plate, namer)([](Point) { return 0.0; });
    std::ofstream out(file, std::ios::app);
    out << number << std::setprecision(9);
    for (const double hz : seen.named)
        out << ' ' << hz;
    for (const double hz : seen.others)
        out << ' ' << hz;
    out << '\n';
    return seen;
}

struct WoodTally {
    int of = 0, plausible = 0, surely_wrong = 0;
    std::array<Spread, 3> wood;
    Spread cuts;
    int told = 0, near = 0;
};

std::vector<Cut> some_cuts(const Judged& plate, int number) {
    std::mt19937 random(static_cast<unsigned>(7000 + number));
    const auto even = [&](double low, double high) {
        return std::uniform_real_distribution<double>(low, high)(random);
    };
    std::vector<Cut> cuts;
    while (cuts.size() < 4) {
        const Cut cut{{even(-95, 95), even(20, 335)}, even(60, 110), even(0.3, 0.5)};
        if (plate.outline.holds(cut.at) && distance_mm(plate.outline.rim, cut.at) > 20.0)
            cuts.push_back(cut);
    }
    return cuts;
}

void one(const Judged& plate, const Seen& modes, int heights, bool has_heard, std::mt19937 random,
         const std::map<int, std::vector<double>>& came, const std::vector<Cut>& cuts,
         WoodTally& tally) {
    const PlateModel model(typed_form(plate, heights, random));
    const FitSession session = session_of(plate, model, modes, has_heard, random);
    const auto fit = fit_wood(model, plate.usual, std::span(&session, 1));
    ++tally.of;
    tally.plausible += fit.is_plausible ? 1 : 0;
    std::printf("  %2d%s:", heights, has_heard ? " and heard" : "");
    const Wood &is = fit.wood.left, &was = plate.wood.left;
    const std::array<double, 3> off{std::log(is.e_l_gpa / was.e_l_gpa),
                                    std::log(is.e_r_gpa / was.e_r_gpa),
                                    std::log(is.g_lr_gpa / was.g_lr_gpa)};
    bool is_wrong = false;
    for (std::size_t k = 0; k < 3; ++k) {
        const double sd = fit.sd(static_cast<FitUnknown>(k));
        tally.wood[k].add(off[k], sd);
        is_wrong = is_wrong || std::abs(off[k]) > 1.96 * sd;
        std::printf(" %s %+.0f %% (+- %.0f)",
                    k == 0   ? "E_L"
                    : k == 1 ? "E_R"
                             : "G",
                    100.0 * std::expm1(off[k]), 100.0 * std::expm1(1.96 * sd));
    }
    tally.surely_wrong += is_wrong && fit.is_plausible ? 1 : 0;
    double chi_square = 0.0;
    for (const FitResidual& r : fit.residuals)
        chi_square += square(r.deviations);
    const auto now = fitted_state(model, fit, session.thickness_mm);
    for (std::size_t c = 0; c < cuts.size(); ++c)
        for (const ShiftForecast& f :
             rehearse(model, fit, now, session.thickness_mm, cuts[c], k_named).shifts) {
            const double shift = came.at(f.number)[c];
            if (!std::isfinite(shift))
                continue;
            tally.cuts.add(f.shift_hz - shift, f.shift_sd_hz);
            if (std::abs(shift) < 0.5) // of less a judge's own mesh is a tenth
                continue;
            ++tally.told;
            tally.near += std::abs(f.shift_hz / shift - 1.0) <= 0.1 ? 1 : 0;
        }
    std::printf("; chi-square %.1f of %zu%s\n", chi_square, fit.residuals.size(),
                fit.is_plausible ? "" : " DOUBT");
    std::fflush(stdout);
}

void woods(int first, int last, const std::string& truths) {
    std::map<std::tuple<bool, int, bool>, WoodTally> all;
    for (int number = first; number <= last; ++number) {
        std::mt19937 random;
        const Judged plate = judged(number, 0, random);
        const Seen modes = truth_of(plate, number, truths);
        const auto cuts = some_cuts(plate, number);
        const Judge judge = shell_judge(plate);
        const Seen before = judge([](Point) { return 0.0; });
        std::map<int, std::vector<double>> came;
        for (const Cut& cut : cuts) {
            const Seen after = judge([&](Point p) { return depth_mm(cut, p); });
            for (std::size_t k = 0; k < 3; ++k)
                came[k_named[k]].push_back(after.named[k] > 0.0 ? after.named[k] - before.named[k]
                                                                : std::nan(""));
        }
        std::printf("%d %s, %s: %.1f %.1f %.1f Hz\n", number, side_of(plate.is_top),
                    plate.shape.name, modes.named[0], modes.named[1], modes.named[2]);
        for (const int heights : {0, 5, 42})
            for (const bool has_heard : {false, true})
                one(plate, modes, heights, has_heard, random, came, cuts,
                    all[{plate.is_top, heights, has_heard}]);
    }
    for (const auto& [key, t] : all) {
        const auto [is_top, heights, has_heard] = key;
        std::printf("%-4s %2d%s: of %d plausible %d, with a constant beyond its interval %d",
                    side_of(is_top), heights, has_heard ? " and heard" : "", t.of, t.plausible,
                    t.surely_wrong);
        t.wood[0].tell("ln E_L");
        t.wood[1].tell("ln E_R");
        t.wood[2].tell("ln G");
        std::printf("; cuts within 10 %% %d of %d", t.near, t.told);
        t.cuts.tell("Hz");
        std::printf("\n");
    }
}

} // namespace

int main(int count, char** given) {
    const std::string what = count > 1 ? given[1] : "surface";
    const int first = count > 3 ? std::atoi(given[2]) : 1;
    const int last = count > 3 ? std::atoi(given[3]) : k_plates;
    if (what == "wood")
        woods(first, last, count > 4 ? given[4] : "");
    else
        surfaces(first, last, count > 4 ? std::atoi(given[4]) : 1);
}
