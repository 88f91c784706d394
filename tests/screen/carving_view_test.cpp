#include "bench/plate_work.hpp"
#include "support/catch.hpp"
#include "trends/plate_form.hpp"
#include "trends/story.hpp"
#include "window_without_glass.hpp"

using namespace platewright;
using screen::Key;
using test::sample_snapshot;
using test::Story;
using test::WindowWithoutGlass;
namespace command = bench::command;

namespace {

/// The story's back on the bench with all that the worker made of it.
struct Carved {
    std::shared_ptr<bench::PlateView> plate = test::sample_plate(0);
    std::shared_ptr<bench::PlateWork> work = std::make_shared<bench::PlateWork>();

    Carved() {
        plate->history = test::story().history;
        plate->history.instrument.label = "Story";
        plate->session = 3;
        work->key = bench::work_key(plate->history, 2);
        work->map = std::make_shared<trends::MapReview>(*trends::review_map(plate->history, 2));
        work->study = std::make_shared<trends::PlateStudy>(*trends::study_plate(plate->history, 2));
        trends::PlanRequest request;
        request.limits = trends::usual_limits(modes::InstrumentKind::violin);
        request.wishes = {{5, work->study->tapped.back().frequency_hz - 6.0}};
        work->plan =
            std::make_shared<trends::PlanAnswer>(*trends::answer(*work->study, request, 3));
    }
    bench::Snapshot snapshot() const {
        auto now = sample_snapshot(nullptr);
        now.plate = plate;
        now.work = work;
        return now;
    }
};

const Carved& carved() {
    static const Carved one;
    return one;
}

} // namespace

TEST_CASE("the map sheet says what the map says, and where the next reading helps most") {
    WindowWithoutGlass window(carved().snapshot());
    window.strike(Key::f7);
    CHECK(window.reads("mass by the map"));
    CHECK(window.reads("by the scales"));
    CHECK(window.reads("read here next"));
    CHECK(window.reads("off since the last map"));
    CHECK(window.reads_within("The next reading helps most at"));
    CHECK_FALSE(window.last_sent<command::StudyPlate>() == std::nullopt);
}

TEST_CASE("the shape is entered as measured, and what can't be is said") {
    WindowWithoutGlass window(carved().snapshot());
    window.strike(Key::f7);
    window.press("Shape");
    window.press("Keep this shape");
    const auto kept = window.last_sent<command::SetForm>();
    REQUIRE(kept);
    CHECK(kept->form.size.length_mm == 355.0);
    CHECK(kept->form.species == "red_maple");
    window.press("[Waist]");
    window.write("x");
    window.press("Keep this shape");
    CHECK(window.reads_within("is not understood"));
}

TEST_CASE(
    "what is computed aside shows how far it is and can be stopped; without a map it is said") {
    Carved busy = carved();
    busy.work = std::make_shared<bench::PlateWork>();
    busy.work->doing = "Fitting the model to this plate";
    busy.work->share = 0.4;
    WindowWithoutGlass window(busy.snapshot());
    window.strike(Key::f7);
    CHECK(window.reads("Fitting the model to this plate"));
    window.press("Stop");
    CHECK(window.last_sent<command::StopWork>());
    busy.work = std::make_shared<bench::PlateWork>();
    busy.work->trouble = "No session of this plate has caliper readings yet.";
    window.show(busy.snapshot());
    window.press("Strokes");
    CHECK(window.reads_within("No session of this plate has caliper readings yet."));
}
