// Plates brought to goals in passes of two fifths of the plan: tapped, weighed and read by caliper
// anew before each, at most six of them. What is true is none of the program's model
// (true_plate.hpp, makers_notes.hpp): archings of other families on a finer shell, air, rings off
// upright, a scraper that lays the wood out unevenly. Beside the plan: even thinning, and the
// literature's rule of zones (central and bout areas inside the ring for mode 5, ends and flanks
// for mode 2: C. M. Hutchins, Catgut Acoust. Soc. Newsl. 39, 1983, and O. E. Rodgers, CASJ 1988 to
// 1993, both from memory), both by f in proportion to mass at first and then by what the last pass
// did.
//   plate_loop [PLATES [FIRST [HEIGHTS [violin | holes | cello [UNEVEN]]]]]
// HEIGHTS typed: 0, 5 or 42. UNEVEN: of fourteen lumps 45 mm wide in what the scraper takes, 0.2.
#include "arch_judges.hpp"
#include "base/interval.hpp"
#include "makers_notes.hpp"
#include "plate/plan/graduation.hpp"
#include "trends/drift/repeatability.hpp"
#include "trends/plate_report.hpp"

#include <cstdio>
#include <cstdlib>
#include <string>

namespace {

using namespace platewright;
using namespace platewright::plate;
using namespace decides;

constexpr int k_most_passes = 6;
constexpr double k_share = 0.4;
constexpr double k_near_hz = 1.5, k_pit_mm = 0.6; // asked of a violin
constexpr std::array<int, 2> k_steered{2, 5};

std::size_t index_of(int number) { return number == 2 ? 1 : 2; }

struct Tally {
    const char* who;
    int plates = 0, near = 0, over = 0, pits = 0, refused = 0, passes = 0, out_of_reach = 0;
    std::array<double, 2> squares{};
    double grams = 0.0, deepest = 0.0;

    void end(const Truth& truth, const Eigen::VectorXd& begun_mm, double begun_g,
             std::span<const trends::Goal> goals, bool is_reachable) {
        const auto hz = truth.now_hz();
        const double pit = hollows_mm(*truth.model, begun_mm, truth.thickness).maxCoeff();
        bool is_near = true, is_over = false;
        std::printf("  %-6s", who);
        for (std::size_t k = 0; k < goals.size(); ++k) {
            const double off = hz[index_of(goals[k].number)] - goals[k].hz;
            is_near = is_near && std::abs(off) <= truth.size * k_near_hz;
            is_over = is_over || off < -base::plus_minus(trends::k_hold_share * goals[k].hz);
            if (is_reachable)
                squares[k] += off * off;
            std::printf(" mode %d %+.2f Hz", goals[k].number, off);
        }
        ++plates;
        near += is_near && is_reachable;
        out_of_reach += !is_reachable;
        over += is_over;
        pits += pit > truth.size * k_pit_mm;
        deepest = std::max(deepest, pit);
        grams += begun_g - truth.mass_g();
        std::printf(", %.2f g, hollow %.2f mm\n", begun_g - truth.mass_g(), pit);
        std::fflush(stdout);
    }
    void tell() const {
        const double n = std::max(1, plates), of = std::max(1, plates - out_of_reach);
        std::printf(
            "%-6s %3d plates: both goals within 1.5 Hz %.0f %%, off by %.2f and %.2f Hz "
            "(rms, modes 2 and 5), beyond a goal by more than its interval %.0f %%, %.2f g "
            "in %.1f passes, hollow over 0.6 mm %.0f %%, deepest %.2f mm; %d times no plan; goals "
            "of %d, by their first plan out of reach, are not in the first three\n",
            who, plates, 100.0 * near / of, std::sqrt(squares[0] / of), std::sqrt(squares[1] / of),
            100.0 * over / n, grams / n, passes / n, 100.0 * pits / n, deepest, refused,
            out_of_reach);
        std::fflush(stdout);
    }
};

void tell_pass(const Truth& truth, const Plan& plan) {
    const auto hz = truth.now_hz();
    std::printf(
        "    %s %.2f g of %.2f",
        std::array{"ok", "nothing", "not reached", "lost"}[static_cast<std::size_t>(plan.status)],
        plan.pass_share * plan.wood_g, plan.wood_g);
    for (const PlanOutcome& o : plan.outcomes)
        if (o.firmness >= 1.0)
            std::printf(", mode %d is %.2f, taken for %.2f, to %.2f, wanted %.2f +- %.2f", o.number,
                        hz[index_of(o.number)], o.now_hz, o.after_hz, o.want_hz,
                        base::plus_minus(o.after_sd_hz));
    std::printf("\n");
}

/// Without a share: as much of the plan as the bench names. Whether the first plan reaches the
/// goals.
bool by_plan(Truth& truth, ledger::PlateHistory history, std::span<const trends::Goal> goals,
             std::optional<double> share, std::mt19937& random, Tally& tally) {
    bool is_reachable = true;
    for (int pass = 0; pass < k_most_passes; ++pass) {
        add_session(history, truth, true, random);
        const ledger::PlateHistory in_one_air = trends::in_air(history, k_usual_air).history;
        const auto study = trends::study_plate(in_one_air, history.sessions.size() - 1);
        trends::PlanRequest request{.wishes = {goals.begin(), goals.end()}};
        request.limits = trends::usual_limits(truth.kind);
        request.limits.pass_share = share;
        const auto made = study ? trends::answer(*study, request)
                                : base::Result<trends::PlanAnswer>(study.fault());
        if (!made) {
            std::printf("    no plan: %s\n", made.fault().what.c_str());
            ++tally.refused;
            return is_reachable;
        }
        if (pass == 0)
            is_reachable = made->plan.status != PlanStatus::not_reachable;
        const RemovalBasis basis(*study->model, made->limits.field);
        const Eigen::VectorXd like = truth.model->thickness_at(
            [&](Point p) { return basis.depth_mm(p, made->plan.depths_mm); });
        const double grams = made->plan.pass_share * made->plan.wood_g;
        tell_pass(truth, made->plan);
        if (grams < trends::k_least_pass_g)
            return is_reachable;
        history.sessions.back().plan = made->record;
        truth.take(truth.scraped(like, grams, k_of_usual, random));
        ++tally.passes;
    }
    return is_reachable;
}

/// The places that a rule names for a mode.
using Rule = std::function<Eigen::VectorXd(int number)>;

void by_rule(Truth& truth, ledger::PlateHistory history, std::span<const trends::Goal> goals,
             const Rule& rule, std::mt19937& random, Tally& tally) {
    std::array<double, 2> hz_per_g{}, before_hz{}, given_g{};
    for (int pass = 0; pass < k_most_passes; ++pass) {
        add_session(history, truth, false, random);
        const ledger::PlateHistory in_one_air = trends::in_air(history, k_usual_air).history;
        const auto tapped = trends::tapped_modes(in_one_air.sessions.back());
        Eigen::VectorXd taken = Eigen::VectorXd::Zero(truth.thickness.size());
        for (std::size_t k = 0; k < goals.size(); ++k) {
            const auto now = std::ranges::find(tapped, goals[k].number, &TappedMode::number);
            if (now == tapped.end())
                return;
            const double usual = now->frequency_hz / truth.mass_g();
            const double did =
                given_g[k] > 0.0 ? (before_hz[k] - now->frequency_hz) / given_g[k] : usual;
            hz_per_g[k] = std::clamp(did, 0.3 * usual, 5.0 * usual); // one pass is one measurement
            before_hz[k] = now->frequency_hz;
            if (now->frequency_hz <= goals[k].hz)
                return; // wood that is gone serves both modes at once
            given_g[k] = k_share * std::max(0.0, now->frequency_hz - goals[k].hz) / hz_per_g[k];
            const Eigen::VectorXd there = rule(goals[k].number);
            taken += there * (given_g[k] / std::max(1e-9, truth.grams(there)));
        }
        const double grams = truth.grams(taken);
        if (grams < trends::k_least_pass_g)
            return;
        truth.take(truth.scraped(taken, grams, k_of_usual, random));
        ++tally.passes;
    }
}

/// Even thinning goes by the goal that is nearer.
void evenly(Truth& truth, const ledger::PlateHistory& history, std::span<const trends::Goal> goals,
            std::mt19937& random, Tally& tally) {
    const auto hz = truth.now_hz();
    const auto nearest = std::ranges::min_element(goals, {}, [&](const trends::Goal& goal) {
        return 1.0 - goal.hz / hz[index_of(goal.number)];
    });
    by_rule(
        truth, history, std::span(&*nearest, 1), [&](int) { return truth.everywhere(); }, random,
        tally);
}

Eigen::VectorXd zone(const Truth& truth, int number) {
    constexpr double k_ring_mm = 45.0; // the ring's usual distance from the edge, a violin's
    const double edge_mm = trends::usual_limits(truth.kind).field.edge_mm;
    const double length = truth.judged.outline.size.length_mm;
    return truth.model->thickness_at([&](Point p) {
        const double in_mm = distance_mm(truth.judged.outline.rim, p);
        const double along = p.y_mm / length;
        const bool is_inside = in_mm > truth.size * k_ring_mm;
        if (in_mm <= edge_mm)
            return 0.0;
        return number == 5 ? (is_inside && along > 0.2 && along < 0.8 ? 1.0 : 0.0)
                           : (!is_inside || along < 0.2 || along > 0.8 ? 1.0 : 0.0);
    });
}

} // namespace

int main(int argc, char** argv) {
    const int plates = argc > 1 ? std::atoi(argv[1]) : 7;
    unsigned seed = argc > 2 ? static_cast<unsigned>(std::atoi(argv[2])) : 1U;
    const int heights = argc > 3 ? std::atoi(argv[3]) : 5;
    const std::string_view group = argc > 4 ? argv[4] : "violin";
    const double uneven = argc > 5 ? std::atof(argv[5]) : 0.2;
    const auto shapes = archings::shapes();
    Tally plan{"2/5"}, named{"named"}, even_one{"even"}, zones{"zones"};
    for (int done = 0; done < plates; ++seed) {
        std::mt19937 random(seed);
        const archings::Shape& shape = shapes[seed % shapes.size()];
        Truth truth(shape, sort_of(group, seed), random);
        truth.uneven = uneven;
        if (!truth.is_usable())
            continue;
        ++done;
        const auto hz = truth.now_hz();
        const std::vector<trends::Goal> goals{
            {2, hz[1] * (1.0 - even(random, 0.025, 0.05)), false},
            {5, hz[2] * (1.0 - even(random, 0.035, 0.06)), false}};
        std::printf("%u %s, %s: %.1f to %.1f, %.1f to %.1f Hz\n", seed,
                    truth.judged.is_top ? "top" : "back", shape.name, hz[1], goals[0].hz, hz[2],
                    goals[1].hz);
        ledger::PlateHistory history = new_plate(truth, goals);
        history.form->heights =
            archings::heights_at(truth.judged, archings::height_places(truth.judged, heights),
                                 archings::k_height_mm, random);
        bool is_reachable = true;
        const auto each = [&](unsigned which, Tally& tally, const auto& go) {
            std::mt19937 own(1000 * seed + which);
            Truth one = truth;
            go(one, own);
            tally.end(one, truth.thickness, truth.mass_g(), goals, is_reachable);
        };
        each(1, plan, [&](Truth& t, auto& own) {
            is_reachable = by_plan(t, history, goals, k_share, own, plan);
        });
        each(1, named, [&](Truth& t, auto& own) { by_plan(t, history, goals, {}, own, named); });
        each(2, even_one, [&](Truth& t, auto& own) { evenly(t, history, goals, own, even_one); });
        each(3, zones, [&](Truth& t, auto& own) {
            by_rule(
                t, history, goals, [&](int number) { return zone(t, number); }, own, zones);
        });
        if (done % 7 == 0 || done == plates)
            for (const Tally* tally : {&plan, &named, &even_one, &zones})
                tally->tell();
    }
}
