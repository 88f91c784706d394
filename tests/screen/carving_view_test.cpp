#include "base/clock.hpp"
#include "base/text.hpp"
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

namespace {

/// The place on the drawing where this reading's mark or the plate's middle is.
constexpr plot::Point k_on_plate{470.0, 330.0};

/// Where the target of mode 5 is typed, as it is labelled.
std::string field_of_mode_5(const HeadlessWindow& window) {
    const auto found = std::ranges::find_if(
        window.seen, [](const screen::Seen& seen) { return seen.words.starts_with("[mode 5"); });
    REQUIRE(found != window.seen.end());
    return found->words;
}

} // namespace

TEST_CASE("the map sheet says what the map says, and where the next reading helps most") {
    HeadlessWindow window(carved().snapshot());
    window.strike(Key::f8);
    CHECK(window.reads("Mass by the map"));
    CHECK(window.reads("Weighed"));
    CHECK(window.reads("read here next"));
    CHECK(window.reads("Taken off"));
    CHECK(window.reads_within("the surface is unsure by up to")); // another one changes no figure
    CHECK_FALSE(window.last_sent<command::StudyPlate>());         // it is of this plate as it is
}

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
    "a reading is clicked on the plate, typed with a decimal comma, and kept with the others") {
    HeadlessWindow window(carved().snapshot());
    window.strike(Key::f8);
    const auto before = test::story().history.sessions[2].thickness.readings.size();
    window.press(k_on_plate);
    CHECK(window.reads_within("The cross: x"));
    window.write("3,27");
    window.press("Add");
    CHECK(window.reads("3.27"));
    window.press("Keep these readings");
    const auto sent = window.last_sent<command::SetThickness>();
    REQUIRE(sent);
    CHECK(sent->session == 3);
    // a click near a reading corrects that one, elsewhere it adds one
    CHECK(sent->readings.size() >= before);
    CHECK(sent->readings.back().thickness_mm == 3.27);
}

TEST_CASE("a reading that can't be is refused where it was typed, and nothing is sent") {
    HeadlessWindow window(carved().snapshot());
    window.strike(Key::f8);
    window.press(k_on_plate);
    window.write("thick");
    window.press("Add");
    CHECK(window.reads_within("is no thickness in mm"));
    CHECK_FALSE(window.reads("Keep these readings"));
    CHECK_FALSE(window.last_sent<command::SetThickness>());
}

TEST_CASE("the shape is entered as measured, and what can't be is said") {
    HeadlessWindow window(carved().snapshot());
    window.strike(Key::f8);
    window.press("Shape");
    window.press("Keep this shape");
    const auto kept = window.last_sent<command::SetForm>();
    REQUIRE(kept);
    CHECK(kept->form.size.length_mm == 355.0);
    CHECK(kept->form.species == "red_maple");
    window.press("[Waist]");
    window.write("x");
    window.press("Keep this shape");
    CHECK(window.reads_within("Waist is a number from 20 to 1400 mm"));
}

TEST_CASE("modes move, and can stand still, and strokes are read off under the pointer") {
    HeadlessWindow window(carved().snapshot());
    window.strike(Key::f8);
    window.press("Motion");
    CHECK(window.reads("mode 5 (ring)"));
    window.press("Stand still");
    CHECK(window.reads("Move"));
    window.press("Strokes");
    window.point_at(k_on_plate);
    CHECK(window.reads_within("A stroke at x"));
    CHECK(window.reads("thickness there"));
}

TEST_CASE("a plan is asked for in Hz and shown with ranges, cautions and what hindsight says") {
    HeadlessWindow window(carved().snapshot(), 1280, 2400);
    window.strike(Key::f8);
    window.press("Next pass");
    CHECK(window.reads("after the next pass"));
    CHECK(window.reads("map of"));
    CHECK(window.reads("as tapped on"));
    CHECK(window.reads_within("can't be put back"));
    CHECK(window.reads_within("Wood dust"));
    window.press("Plan");
    const auto asked = window.last_sent<command::MakePlan>();
    REQUIRE(asked);
    CHECK(asked->request.wishes.empty());
    CHECK(asked->request.limits.least_mm == 2.0);
    CHECK(asked->reference == 0);
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

TEST_CASE("the pass that the bench speaks of stands under Next pass, until another is planned") {
    Carved aimed = carved();
    aimed.work = std::make_shared<bench::PlateWork>(*aimed.work);
    aimed.work->next =
        std::make_shared<trends::NextPass>(trends::NextPass{aimed.work->plan, {}, {}});
    aimed.work->plan.reset();
    HeadlessWindow window(aimed.snapshot(), 1280, 2400);
    window.strike(Key::f8);
    window.press("Next pass");
    CHECK(window.reads("The plan"));
    CHECK(window.reads("seen from the inside, bass side left"));
}

TEST_CASE("an older map says of when it is, and counts no readings for the session on the bench") {
    Carved later = carved();
    later.plate = std::make_shared<bench::PlateView>(*later.plate);
    ledger::SessionHistory today;
    today.session.id = 99;
    today.session.plate = 7;
    later.plate->history.sessions.push_back(today);
    later.plate->session = 99;
    HeadlessWindow window(carved().snapshot());
    window.strike(Key::f8);
    CHECK_FALSE(window.reads_within("This is the map of"));
    window.show(later.snapshot());
    CHECK(window.reads_within("This is the map of " +
                              base::local_date(test::story().history.sessions[2].session.begun)));
    CHECK(window.reads("Readings of this session: 0"));
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

TEST_CASE("a plan's picture marks its deepest places, none close beside another") {
    const auto& study = *carved().work->study;
    const auto& plan = carved().work->plan->plan;
    const auto picture = screen::plan_picture(study, plan.removal_mm, true);
    REQUIRE_FALSE(picture.marks.empty());
    CHECK(picture.marks.front().words == base::fixed(plan.deepest_mm, 2));
    for (const auto& one : picture.marks) {
        for (const auto& other : picture.marks) {
            CHECK((&one == &other ||
                   std::hypot(one.at.x - other.at.x, one.at.y - other.at.y) >= 40.0));
        }
    }
    CHECK(screen::plan_picture(study, 0.0 * plan.removal_mm, true).marks.empty());
}

TEST_CASE("targets kept with the plate stand in the fields of the plan, until others are typed") {
    Carved aimed = carved();
    aimed.plate = std::make_shared<bench::PlateView>(*aimed.plate);
    const auto& tapped = aimed.work->study->tapped;
    aimed.plate->history.targets = {{2, 160.5}, {5, 350.0}};
    HeadlessWindow window(aimed.snapshot(), 1280, 2400);
    window.strike(Key::f8);
    window.press("Next pass");
    window.press("Plan");
    auto asked = window.last_sent<command::MakePlan>();
    REQUIRE(asked);
    REQUIRE(asked->request.wishes.size() == 2);
    CHECK(asked->request.wishes[0].number == 2);
    CHECK(asked->request.wishes[0].hz == 160.5);
    CHECK(asked->request.wishes[1].hz == 350.0);
    // what is typed stays when a target is kept for that mode; the others follow theirs
    window.press("[mode 1 (twist), now " + base::fixed(tapped.front().frequency_hz, 1) + "]");
    window.write("101");
    aimed.plate = std::make_shared<bench::PlateView>(*aimed.plate);
    aimed.plate->history.targets = {{1, 99.0}, {2, 161.0}};
    window.show(aimed.snapshot());
    window.press("Plan");
    asked = window.last_sent<command::MakePlan>();
    REQUIRE(asked->request.wishes.size() == 2);
    CHECK(asked->request.wishes[0].hz == 101.0);
    CHECK(asked->request.wishes[1].hz == 161.0);
    // another plate has its own
    aimed.plate = std::make_shared<bench::PlateView>(*aimed.plate);
    aimed.plate->history.plate.id = 8;
    aimed.plate->history.targets.clear();
    window.show(aimed.snapshot());
    window.press("Plan");
    CHECK(window.last_sent<command::MakePlan>()->request.wishes.empty());
}

TEST_CASE("targets are kept from the window, with a model or without a map, of a body too") {
    for (const bool modelled : {true, false}) {
        Carved aimed = carved();
        aimed.plate = std::make_shared<bench::PlateView>(*aimed.plate);
        aimed.plate->history.targets = {{1, 99.0}, {2, 160.5}};
        bench::Snapshot now = aimed.snapshot();
        if (!modelled) {
            now.work.reset();
        }
        HeadlessWindow window(now, 1280, 2400);
        window.strike(Key::f8);
        window.press("Next pass");
        window.press(field_of_mode_5(window));
        window.write("351.5");
        window.press("Keep as the plate's targets");
        const auto kept = window.last_sent<command::SetTargets>();
        REQUIRE(kept);
        CHECK(kept->targets ==
              std::vector<ledger::TargetRecord>{{1, 99.0}, {2, 160.5}, {5, 351.5}});
        CHECK_FALSE(window.last_sent<command::MakePlan>());
    }
    Carved closed = carved();
    closed.plate = std::make_shared<bench::PlateView>(*closed.plate);
    closed.plate->history.plate.part = modes::Part::body;
    HeadlessWindow window(closed.snapshot());
    window.strike(Key::f8);
    CHECK(window.find_scrolling("[A0]") != nullptr);
    window.press("Keep as the plate's targets");
    REQUIRE(window.last_sent<command::SetTargets>());
    CHECK(window.last_sent<command::SetTargets>()->targets.empty());
}

TEST_CASE("a target that no plate comes to is asked about before it is kept or planned for") {
    for (const char* press : {"Keep as the plate's targets", "Plan"}) {
        CAPTURE(press);
        HeadlessWindow window(carved().snapshot(), 1280, 2400);
        window.strike(Key::f8);
        window.press("Next pass");
        const auto sent = [&] {
            return window.last_sent<command::SetTargets>() || window.last_sent<command::MakePlan>();
        };
        window.press(field_of_mode_5(window));
        window.write("35");
        window.press(press);
        CHECK(window.reads_within("35.0 Hz for mode 5? It is at"));
        CHECK_FALSE(sent());
        window.press(field_of_mode_5(window)); // put right, it is taken at once
        window.write("0");
        window.press(press);
        CHECK_FALSE(window.reads_within("35.0 Hz for mode 5?"));
        CHECK(sent());
    }
    HeadlessWindow window(carved().snapshot(), 1280, 2400);
    window.strike(Key::f8);
    window.press("Next pass");
    window.press(field_of_mode_5(window));
    window.write("35");
    window.press("Keep as the plate's targets");
    REQUIRE_FALSE(window.last_sent<command::SetTargets>());
    window.press("Keep as the plate's targets"); // meant so
    REQUIRE(window.last_sent<command::SetTargets>());
    CHECK(window.last_sent<command::SetTargets>()->targets.back().frequency_hz == 35.0);
}

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
