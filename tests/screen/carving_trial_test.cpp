// What is tried and measured at a place on the plate: cuts, laid-on masses, pins, flexing.

#include "carved_plate.hpp"
#include "headless_window.hpp"
#include "support/catch.hpp"

using namespace platewright;
using screen::Key;
using test::Carved;
using test::carved;
using test::HeadlessWindow;
namespace command = bench::command;

TEST_CASE("a place is clicked to weigh the modes there, or to try a cut on the model") {
    HeadlessWindow window(carved().snapshot(), 1280, 2400);
    window.strike(Key::f8);
    window.press("Trial");
    CHECK(window.reads_within("can't be put back"));
    CHECK(window.reads("Before it, best first"));
    window.press("Try it at the cross");
    CHECK(window.reads_within("Click the place"));
    CHECK_FALSE(window.last_sent<command::TryCut>());
    window.press({480.0, 1200.0});
    window.press("Try it at the cross");
    const auto cut = window.last_sent<command::TryCut>();
    REQUIRE(cut);
    CHECK(cut->cut.depth_mm == 0.2);
    CHECK(cut->cut.across_mm == 60.0);
    window.press("Keep this forecast");
    CHECK(window.last_sent<command::KeepTrial>());
    window.press("Weigh at the cross");
    const auto weighing = window.last_sent<command::BeginWeighing>();
    REQUIRE(weighing);
    CHECK(weighing->weighing.mass_g == 1.0);
    CHECK(weighing->weighing.at == cut->cut.at);
    CHECK(weighing->weighing.place_sd_mm == 2.0);
    window.press("[Its mass, g]");
    window.write("x"); // behind the 1
    window.press({480.0, 1200.0});
    window.press("Weigh at the cross");
    CHECK(window.reads_within("0.05 to 200 g"));
}

TEST_CASE("the bench says what comes next in a weighing, and what it told") {
    Carved weighed = carved();
    weighed.plate = std::make_shared<bench::PlateView>(*weighed.plate);
    weighed.plate->decision = {.advice = trends::Advice::take, .number = 5, .take_g = 0.4};
    bench::WeighingView view{{.id = 1, .at = {-12.0, 178.0}, .mass_g = 1.0}, {}, {}};
    const auto shows = [&](trends::WeighingStep step, std::string_view words) {
        view.progress.step = step;
        weighed.plate->weighing = view;
        bench::Snapshot now = weighed.snapshot();
        now.tap.reset();
        now.input.state = bench::InputState::running;
        HeadlessWindow window(now);
        window.strike(Key::f1);
        INFO(words);
        CHECK(window.reads_within(words));
        // One thing at a time: below the lanes stands the same step, and no other weighing.
        const bool is_under_way = step != trends::WeighingStep::done;
        CHECK(window.reads(std::string(words) + ".") == is_under_way);
        CHECK(window.reads_within("g at most") != is_under_way);
        CHECK(window.reads("1.00 g, here") == (step == trends::WeighingStep::tap_with));
    };
    shows(trends::WeighingStep::tap_bare, "Tap it bare");
    shows(trends::WeighingStep::tap_with, "Lay the mass on");
    shows(trends::WeighingStep::take_off, "Take the mass off");
    view.shifts = {{5, 352.0, 348.0, 0.0, {5, std::log(348.0 / 352.0), 2e-4}}};
    shows(trends::WeighingStep::done, "Weighed");
}

TEST_CASE("pins are clicked and written, flex readings typed, and both are sent") {
    HeadlessWindow window(carved().snapshot(), 1920, 1080);
    window.strike(Key::f8);
    window.press("By hand");
    window.press({700.0, 480.0});
    window.write("stiff");
    window.press("Pin it");
    const auto pin = window.last_sent<command::AddPin>();
    REQUIRE(pin);
    CHECK(pin->pin.text == "stiff");
    window.press("Keep this reading");
    CHECK(window.reads_within("The deflection is a number from 0.001 to 100 mm"));
    window.press("[It went down by, mm]");
    window.write("1,4");
    window.press("Keep this reading");
    const auto flex = window.last_sent<command::AddFlex>();
    REQUIRE(flex);
    CHECK(flex->flex.deflection_mm == 1.4);
    CHECK(flex->flex.kind == ledger::FlexKind::lengthwise);
}
