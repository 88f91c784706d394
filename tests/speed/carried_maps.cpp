// How far a plan's forecast is off where the map was carried on: invented backs of the model's own
// kind, so that nothing else is wrong. A pass for mode 5 or 2 is planned and kept. It is taken
// where it was planned, each stroke some 6 mm beside its place and 15 % too deep or shallow, or in
// five hollows anywhere, as many grams. Then a plan is made with the old map carried on by the kept
// plan, with the old map thinned evenly, and with the map read anew. What each foretells is set
// beside a solve of the plate as it is. The constants of widen_by_carrying
// (trends/model/plan_request.cpp) and k_beside_plan (trends/model/plate_now.cpp) are beside what
// this prints.
//   carried_maps [PLATES [SEED]]
#include "trends/model/plan_request.hpp"
#include "trends/story.hpp"

#include <cstdio>
#include <cstdlib>
#include <random>

namespace {

using namespace platewright;
using namespace platewright::trends;
using test::Story;

double even(std::mt19937& random, double low, double high) {
    return std::uniform_real_distribution<double>(low, high)(random);
}

base::Result<PlanAnswer> lower(const PlateStudy& study, int number, double by) {
    PlanRequest request;
    request.limits = usual_limits(modes::InstrumentKind::violin);
    for (const plate::TappedMode& mode : study.tapped)
        if (mode.number == number)
            request.wishes = {{number, mode.frequency_hz * (1.0 - by)}};
    return answer(study, request);
}

Story::Thickness strokes_of(const PlateStudy& study, const PlanAnswer& made) {
    const plate::RemovalBasis basis(*study.model, made.limits.field);
    return [basis, depths_mm = made.plan.depths_mm](plate::Point p) {
        return basis.depth_mm(p, depths_mm);
    };
}

/// The planned strokes as a hand lays them.
Story::Thickness by_hand(const Story::Thickness& planned_mm, std::mt19937& random) {
    std::normal_distribution<double> normal;
    const double aside_mm = 6.0 * normal(random), along_mm = 6.0 * normal(random),
                 times = 1.0 + 0.15 * normal(random), slope = 0.15 * normal(random);
    return [=](plate::Point p) {
        return (times + slope * p.x_mm / 100.0) *
               planned_mm({p.x_mm - aside_mm, p.y_mm - along_mm});
    };
}

Story::Thickness hollows_anywhere(std::mt19937& random) {
    struct Hollow {
        plate::Point at;
        double depth_mm;
    };
    std::vector<Hollow> all;
    for (int k = 0; k < 5; ++k)
        all.push_back({{even(random, -80, 80), even(random, 60, 300)}, even(random, 0.15, 0.5)});
    return [all](plate::Point p) {
        constexpr double k_wide_mm = 30.0;
        double mm = 0.0;
        for (const Hollow& h : all)
            mm += h.depth_mm * std::exp(-0.5 * (std::pow((p.x_mm - h.at.x_mm) / k_wide_mm, 2) +
                                                std::pow((p.y_mm - h.at.y_mm) / k_wide_mm, 2)));
        return mm;
    };
}

/// What the plan does to the mode of the plate as it is.
double shift_hz(const PlateStudy& study, const PlanAnswer& made, const plate::PlateWood& wood,
                const Story::Thickness& is_mm, int number) {
    const plate::PlateModel& model = *study.model;
    const Story::Thickness taken_mm = strokes_of(study, made);
    const auto now = model.solve(model.thickness_at(is_mm), wood, 10);
    const auto then =
        model.solve(model.thickness_at([&](plate::Point p) { return is_mm(p) - taken_mm(p); }),
                    wood, 10, now.shapes);
    const int index = plate::mode_index(plate::ShapeJudge(model).names(now.shapes), number);
    const auto after = plate::follow(model, now.shapes, then.shapes);
    return then.frequency_hz[after[static_cast<std::size_t>(index)]] - now.frequency_hz[index];
}

void tell(const char* map, const PlateStudy& study, const PlanAnswer& made,
          const plate::PlateWood& wood, const Story::Thickness& is_mm, int number) {
    const double off = study.carried ? study.carried->off_mm / study.thickness_mm.mean() : 0.0;
    for (const plate::PlanOutcome& o : made.plan.outcomes)
        if (o.number == number) {
            const double said_hz = o.after_hz - o.now_hz;
            const double did_hz = shift_hz(study, made, wood, is_mm, number);
            std::printf("%s: mode %d, %.3f of thickness unknown, said %.2f Hz +- %.0f %%, did "
                        "%.2f Hz: %+.1f %% off\n",
                        map, number, off, said_hz, 100.0 * o.after_sd_hz / std::abs(said_hz),
                        did_hz, 100.0 * (said_hz / did_hz - 1.0));
        }
}

} // namespace

int main(int argc, char** argv) {
    const int plates = argc > 1 ? std::atoi(argv[1]) : 18;
    std::mt19937 random(argc > 2 ? static_cast<unsigned>(std::atoi(argv[2])) : 7U);
    for (int k = 0; k < plates; ++k) {
        Story story({0.0});
        const auto before = study_plate(story.history, 0);
        const auto planned = lower(*before, k % 2 == 0 ? 5 : 2, even(random, 0.02, 0.06));
        if (!planned)
            continue;
        const bool followed = k % 3 < 2;
        const Story::Thickness taken_mm =
            followed ? by_hand(strokes_of(*before, *planned), random) : hollows_anywhere(random);
        const auto is_mm = [&](plate::Point p) {
            return Story::thickness_mm(p, 0.0) - taken_mm(p);
        };
        story.add(is_mm);
        const auto anew = study_plate(story.history, 1);
        story.history.sessions[1].thickness.readings.clear();
        const auto evenly = study_plate(story.history, 1);
        story.history.sessions[0].plan = planned->record;
        story.history.sessions[0].plan->pass_share = 1.0;
        const auto carried = study_plate(story.history, 1);
        std::printf("%s, %.1f g, %.1f as planned\n", followed ? "followed" : "anywhere",
                    carried->carried->taken_g, carried->carried->planned_g);
        for (const int number : {5, 2}) {
            const double by = even(random, 0.01, 0.03);
            for (const auto& [map, study] :
                 {std::pair{"by the plan", &carried}, {"evenly", &evenly}, {"read anew", &anew}})
                if (const auto made = lower(**study, number, by))
                    tell(map, **study, *made, story.wood, is_mm, number);
        }
        std::fflush(stdout);
    }
}
