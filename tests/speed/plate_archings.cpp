// Plates whose arching is not of the model's family: what is promised of a plan, and what comes?
// Long arches: a circle (published recipe, with curtate cycloids across: Q. Playfair, The Strad,
// November 1999, from memory), a catenary, powers of the place; cross arches: cycloids, powers of a
// cosine, a parabola. What the maker has: arch_judges.hpp. Plan: mode 5 -15 Hz, mode 2 -6 Hz. The
// judge carries all of the plan out.
//   plate_archings shapes                 the nearest profile of each, and what it leaves
//   plate_archings shell [DRAWS [FIRST LAST]]  judged by a finer shell of the very surface
//   plate_archings solids [FIRST LAST]    judged by CalculiX, one draw a plate
// Plates 1 to 14 are under shapes(), 15 to 20 under left_out().
// Each with the named modes alone and with two thirds of the others heard beside three sounds that
// are none of the plate's.
#include "arch_judges.hpp"
#include "plate/plan/plan.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <cstring>
#include <map>
#include <random>
#include <string>
#include <tuple>
#include <vector>

namespace {

using namespace platewright;
using namespace platewright::plate;
using namespace archings;

struct Tally {
    int of = 0, plausible = 0, unsettled = 0, unreachable = 0, lost = 0;
    std::array<int, 3> wood{}, shift{}, followed{};
    std::array<double, 3> width{}, miss{};
    int near = 0, over = 0, overshot_pass = 0;
};

void tell(const char* name, const Tally& t) {
    if (t.of == 0)
        return;
    const auto percent = [&](int k) { return 100.0 * k / t.of; };
    const auto of_followed = [&](int k, std::size_t mode) {
        return 100.0 * k / std::max(1, t.followed[mode]);
    };
    const auto mean = [&](const std::array<double, 3>& sum, std::size_t mode) {
        return sum[mode] / std::max(1, t.followed[mode]);
    };
    std::printf("%-9s %3d plates: plausible %3.0f %%; 95 %% intervals hold E_L %3.0f E_R %3.0f G "
                "%3.0f, shift of 1 %3.0f 2 %3.0f 5 %3.0f %%; width 2 +-%.2f 5 +-%.2f Hz; rms miss "
                "2 %.2f 5 %.2f Hz; 5 within 15 %% or 1 Hz %3.0f %%, overshot by more %3.0f %%; "
                "pass beyond target %3.0f %%; not settled %d, short %d, lost %d\n",
                name, t.of, percent(t.plausible), percent(t.wood[0]), percent(t.wood[1]),
                percent(t.wood[2]), of_followed(t.shift[0], 0), of_followed(t.shift[1], 1),
                of_followed(t.shift[2], 2), mean(t.width, 1), mean(t.width, 2),
                std::sqrt(mean(t.miss, 1)), std::sqrt(mean(t.miss, 2)), of_followed(t.near, 2),
                of_followed(t.over, 2), of_followed(t.overshot_pass, 2), t.unsettled, t.unreachable,
                t.lost);
    std::fflush(stdout);
}

void one(const Judged& plate, const Judge& judge, int heights, std::mt19937 random, Tally& tally,
         bool is_told, const Seen& untouched, bool has_heard) {
    const auto& before = untouched.named;
    const PlateForm form = typed_form(plate, heights, random);
    const PlateModel model(form);
    const FitSession session = session_of(plate, model, untouched, has_heard, random);
    const auto fit = fit_wood(model, plate.usual, std::span(&session, 1));
    ++tally.of;
    tally.unsettled += fit.status != FitStatus::ok ? 1 : 0;
    tally.plausible += fit.is_plausible ? 1 : 0;
    const std::array<double, 3> truth{plate.wood.left.e_l_gpa, plate.wood.left.e_r_gpa,
                                      plate.wood.left.g_lr_gpa};
    const std::array<double, 3> found{fit.wood.left.e_l_gpa, fit.wood.left.e_r_gpa,
                                      fit.wood.left.g_lr_gpa};
    for (std::size_t k = 0; k < 3; ++k)
        tally.wood[k] +=
            std::abs(std::log(found[k] / truth[k])) < 1.96 * fit.sd(static_cast<FitUnknown>(k)) ? 1
                                                                                                : 0;
    std::vector<PlanTarget> targets;
    for (const auto& m : session.modes)
        targets.push_back({m.number, m.frequency_hz,
                           m.frequency_hz - (m.number == 5   ? 15.0
                                             : m.number == 2 ? 6.0
                                                             : 0.0),
                           m.number == 1 ? 0.02 : 1.0});
    const PlanLimits limits{.pass_share = 0.4};
    const auto plan = make_plan(model, fit, session.thickness_mm, targets, limits);
    tally.unreachable += plan.status == PlanStatus::ok ? 0 : 1;
    const RemovalBasis basis(model, limits.field);
    const auto after = judge([&](Point p) { return basis.depth_mm(p, plan.depths_mm); }).named;
    if (is_told)
        std::printf("  %2d heights%s: E_L %+.0f E_R %+.0f G %+.0f %%, arch %.2f (%.2f) mm, "
                    "fullness %.2f : %.2f%s;",
                    heights, has_heard ? " and heard modes" : "",
                    100.0 * (found[0] / truth[0] - 1.0), 100.0 * (found[1] / truth[1] - 1.0),
                    100.0 * (found[2] / truth[2] - 1.0),
                    model.arching().profile().arch_mm + fit.arch[0], plate.shape.arch_mm,
                    model.arching().profile().long_fullness * std::exp(fit.arch[1]),
                    model.arching().profile().cross_fullness * std::exp(fit.arch[2]),
                    fit.is_plausible ? "" : " DOUBT");
    for (const auto& o : plan.outcomes) {
        const std::size_t k = o.number == 1 ? 0 : o.number == 2 ? 1 : 2;
        if (after[k] <= 0.0) {
            ++tally.lost;
            continue;
        }
        const double promised = o.after_hz - o.now_hz, seen = after[k] - before[k];
        ++tally.followed[k];
        const double width = 1.96 * o.after_sd_hz;
        tally.shift[k] += std::abs(promised - seen) <= width ? 1 : 0;
        tally.width[k] += width;
        tally.miss[k] += std::pow(promised - seen, 2);
        if (o.number == 5) {
            const double allowed = std::max(0.15 * std::abs(promised), 1.0);
            tally.near += std::abs(promised - seen) <= allowed ? 1 : 0;
            tally.over += promised - seen > allowed ? 1 : 0;
            tally.overshot_pass += *limits.pass_share * seen < o.want_hz - o.now_hz ? 1 : 0;
        }
        if (is_told)
            std::printf(" mode %d %.2f +- %.2f (%.2f)", o.number, promised, width, seen);
    }
    if (is_told) {
        std::printf("\n");
        std::fflush(stdout);
    }
}

void print_shapes() {
    for (const Shape& shape : shapes()) {
        const Judged plate(shape, false);
        const auto places = grid_inside(plate.outline, 11.0);
        std::mt19937 none;
        // the nearest profile: heights that may lie off it by any amount, each alone
        ArchPriors loose;
        loose.log_fullness = 3.0;
        loose.height_mm = 5.0;
        loose.log_ends = 3.0;
        loose.departure = 1e-4;
        const Arching nearest(plate.outline, {shape.arch_mm, 4.0},
                              heights_at(plate, places, 0.0, none), loose);
        double sum = 0.0, worst = 0.0;
        for (const Point p : places) {
            const double off = plate.outside_mm(p) - nearest.height_mm(p);
            sum += off * off;
            worst = std::max(worst, std::abs(off));
        }
        const double rms = std::sqrt(sum / static_cast<double>(places.size()));
        std::printf("%-24s fullness %.2f : %.2f, ends %.2f : %.2f, height %+.2f mm; leaves %.2f mm "
                    "rms (%.1f %% of "
                    "the rise), %.2f mm at most\n",
                    shape.name, nearest.profile().long_fullness, nearest.profile().cross_fullness,
                    nearest.profile().long_ends, nearest.profile().cross_ends,
                    nearest.profile().arch_mm - shape.arch_mm, rms,
                    100.0 * rms / (shape.arch_mm - 4.0), worst);
    }
}

void run(bool is_solid, int draws, int first, int last) {
    const std::vector<int> numbers_of_heights =
        is_solid ? std::vector{0, 5, 42} : std::vector{0, 5, 15, 42};
    std::map<std::tuple<bool, int, bool>, Tally> tallies;
    for (int number = first; number <= last; ++number)
        for (int draw = 0; draw < draws; ++draw) {
            std::mt19937 random;
            const Judged plate = judged(number, draw, random);
            const PlateModel namer({plate.outline, {plate.shape.arch_mm, 4.0}, {}, {}, {}});
            const Judge judge = is_solid ? solid_judge(plate, namer) : shell_judge(plate);
            const auto before = judge([](Point) { return 0.0; });
            const bool is_told = is_solid || draws == 1;
            if (is_told)
                std::printf("%d %s, %s: %.1f %.1f %.1f Hz\n", number, plate.is_top ? "top" : "back",
                            plate.shape.name, before.named[0], before.named[1], before.named[2]);
            for (const int heights : numbers_of_heights)
                for (const bool has_heard : {false, true})
                    one(plate, judge, heights, random, tallies[{plate.is_top, heights, has_heard}],
                        is_told, before, has_heard);
        }
    for (const auto& [key, tally] : tallies)
        tell(((std::get<0>(key) ? "top, " : "back, ") + std::to_string(std::get<1>(key)) +
              (std::get<2>(key) ? ", heard" : ""))
                 .c_str(),
             tally);
}

} // namespace

int main(int argc, char** argv) {
    const std::string what = argc > 1 ? argv[1] : "shapes";
    if (what == "shapes")
        print_shapes();
    else if (what == "shell")
        run(false, argc > 2 ? std::atoi(argv[2]) : 4, argc > 4 ? std::atoi(argv[3]) : 1,
            argc > 4 ? std::atoi(argv[4]) : k_plates);
    else
        run(true, 1, argc > 3 ? std::atoi(argv[2]) : 1, argc > 3 ? std::atoi(argv[3]) : k_plates);
}
