#pragma once
#include "bench/model/plate_work.hpp"
#include "plot/canvas.hpp"
#include "support/sample_bench.hpp"
#include "trends/model/plate_form.hpp"
#include "trends/story.hpp"

#include <memory>

namespace platewright::test {

/// The story's back on the bench with all that the worker made of it.
struct Carved {
    std::shared_ptr<bench::PlateView> plate = sample_plate(0);
    std::shared_ptr<bench::PlateWork> work = std::make_shared<bench::PlateWork>();

    Carved() {
        plate->history = story().history;
        plate->history.instrument.label = "Story";
        plate->history.plate.id = 7;
        plate->session = 3;
        work->of = bench::inputs_of(plate->history, 2);
        work->map = std::make_shared<trends::MapReview>(*trends::review_map(plate->history, 2));
        work->study = std::make_shared<trends::PlateStudy>(*trends::study_plate(plate->history, 2));
        trends::PlanRequest request;
        request.limits = trends::usual_limits(modes::InstrumentKind::violin);
        request.wishes = {{5, work->study->tapped.back().frequency_hz - 6.0}};
        work->plan = std::make_shared<trends::PlanAnswer>(*trends::answer(*work->study, request));
        work->trial = std::make_shared<trends::CutTrial>(
            *trends::try_cut(*work->study, plate::Cut{{40.0, 95.0}, 70.0, 0.3}));
    }
    bench::Snapshot snapshot() const {
        auto now = sample_snapshot(nullptr);
        now.plate = plate;
        now.work = work;
        return now;
    }
};

inline const Carved& carved() {
    static const Carved one;
    return one;
}

/// A place on the view's drawing, at 1280 by 800, where the plate is.
constexpr plot::Point k_on_plate{470.0, 330.0};

/// The same with its plan kept in the open session, and taps that suffice to take a little.
inline bench::Snapshot planned_pass() {
    auto now = carved().snapshot();
    auto plate = std::make_shared<bench::PlateView>(*carved().plate);
    auto& session = plate->history.sessions.at(2);
    session.plan = carved().work->plan->record;
    plate->session = session.session.id;
    plate->decision = {.advice = trends::Advice::take, .number = 5, .take_g = 0.4};
    now.plate = plate;
    return now;
}

} // namespace platewright::test
