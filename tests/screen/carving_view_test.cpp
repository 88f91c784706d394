// What is true of the plate view whichever sheet lies open.

#include "carved_plate.hpp"
#include "headless_window.hpp"
#include "screen/draw/plate_pictures.hpp"
#include "support/catch.hpp"

using namespace platewright;
using screen::Key;
using test::Carved;
using test::carved;
using test::HeadlessWindow;
namespace command = bench::command;

TEST_CASE("the model is asked for where none is there, or one of another plate as it was") {
    bench::Snapshot none = carved().snapshot();
    none.work.reset();
    HeadlessWindow window(std::move(none));
    window.strike(Key::f8);
    CHECK(window.last_sent<command::StudyPlate>());
    window.sent.clear();
    bench::Snapshot older = carved().snapshot();
    auto work = std::make_shared<bench::PlateWork>(*older.work);
    work->of.history.sessions.back().session.mass_g = 999.0;
    older.work = work;
    older.plate = std::make_shared<bench::PlateView>(*older.plate); // something was entered
    window.show(std::move(older));
    CHECK(window.last_sent<command::StudyPlate>());
}

TEST_CASE(
    "a pass is seen from the inside, with the same names as at the bench, all else from outside") {
    HeadlessWindow window(carved().snapshot(), 1280, 2400);
    window.strike(Key::f8);
    for (const char* sheet : {"Thickness", "Shape", "Motion", "Strokes", "Trial", "By hand"}) {
        window.press(sheet);
        INFO(sheet);
        CHECK(window.reads("seen from the outside, bass side right")); // a back, from behind
    }
    window.press("Next pass");
    CHECK(window.reads("seen from the inside, bass side left"));
    CHECK(screen::sides_of(modes::Part::top, std::nullopt, false) ==
          "seen from the outside, bass side left");
    plate::BassBar for_the_left_hand;
    for_the_left_hand.lower.x_mm = 18.0;
    CHECK(screen::sides_of(modes::Part::top, for_the_left_hand, true) ==
          "seen from the inside, bass side left");
}

TEST_CASE("what is offered to be typed suits the size of the plate") {
    Carved large = carved();
    large.plate = std::make_shared<bench::PlateView>(*large.plate);
    large.plate->history.form->size.length_mm = 1110.0;
    large.plate->history.sessions.at(2).session.mass_g = 1630.0;
    HeadlessWindow window(large.snapshot(), 1280, 2400, 1.0, wording::Language::german);
    window.strike(Key::f8);
    window.press("Probe");
    window.press({480.0, 1200.0});
    window.press("Am Kreuz erproben");
    const auto cut = window.last_sent<command::TryCut>();
    REQUIRE(cut);
    CHECK(cut->cut.depth_mm == Approx(0.2));
    CHECK(cut->cut.across_mm == Approx(190.0)); // 60 mm of a violin's 355
    window.press("Am Kreuz wägen");
    const auto weighing = window.last_sent<command::BeginWeighing>();
    REQUIRE(weighing);
    CHECK(weighing->weighing.mass_g == Approx(16.5)); // about a hundredth
    window.press("Von Hand");
    window.press("[Sie gab nach um, mm]");
    window.write("1,4");
    window.press("Messung behalten");
    REQUIRE(window.last_sent<command::AddFlex>());
    CHECK(window.last_sent<command::AddFlex>()->flex.span_mm ==
          Approx(940.0)); // 300 mm of a violin's
}

TEST_CASE(
    "what is computed aside shows how far it is and can be stopped, and without a map it is said") {
    Carved busy = carved();
    busy.work = std::make_shared<bench::PlateWork>();
    busy.work->doing = "Fitting the model to this plate";
    busy.work->share = 0.4;
    HeadlessWindow window(busy.snapshot());
    window.strike(Key::f8);
    CHECK(window.reads("Fitting the model to this plate"));
    window.press("Stop");
    CHECK(window.last_sent<command::StopWork>());
    busy.work = std::make_shared<bench::PlateWork>();
    busy.work->trouble = "No session of this plate has caliper readings yet.";
    window.show(busy.snapshot());
    window.sent.clear();
    window.press("Strokes");
    CHECK(window.reads_within("No session of this plate has caliper readings yet."));
    CHECK(window.last_sent<command::StudyPlate>()); // who opens another sheet looks again
}

TEST_CASE("a closed body is not carved, and no model of it is asked for") {
    Carved closed = carved();
    closed.plate = std::make_shared<bench::PlateView>(*closed.plate);
    closed.plate->history.plate.part = modes::Part::body;
    HeadlessWindow window(closed.snapshot());
    window.strike(Key::f8);
    CHECK(window.reads_within("A closed body has no inside to map or model"));
    CHECK_FALSE(window.reads("Thickness"));
    CHECK_FALSE(window.last_sent<command::StudyPlate>());
}
