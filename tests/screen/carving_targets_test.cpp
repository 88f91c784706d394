// The targets in the fields above a plan.

#include "base/text.hpp"
#include "carved_plate.hpp"
#include "headless_window.hpp"
#include "support/catch.hpp"

using namespace platewright;
using screen::Key;
using test::Carved;
using test::carved;
using test::HeadlessWindow;
namespace command = bench::command;

namespace {

/// Where the target of mode 5 is typed, as it is labelled.
std::string field_of_mode_5(const HeadlessWindow& window) {
    const auto found = std::ranges::find_if(
        window.seen, [](const screen::Seen& seen) { return seen.words.starts_with("[mode 5"); });
    REQUIRE(found != window.seen.end());
    return found->words;
}

} // namespace

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
