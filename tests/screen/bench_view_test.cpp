#include "base/text.hpp"
#include "headless_window.hpp"
#include "support/catch.hpp"

#include <tuple>

using namespace platewright;
using screen::Key;
using test::HeadlessWindow;
using test::sample_plate;
using test::sample_snapshot;
namespace command = bench::command;

TEST_CASE("without a plate the bench says what to do and leads there") {
    auto now = sample_snapshot(sample_plate(1));
    now.plate.reset();
    HeadlessWindow window(now);
    CHECK(window.reads("No plate on the bench"));
    window.press("Go to the plates");
    CHECK(window.desk().place() == screen::Place::plates);
}

TEST_CASE("a plate without a session is begun with one key at the stage it had") {
    HeadlessWindow window(sample_snapshot(sample_plate(0)));
    CHECK(window.reads("No session yet"));
    window.strike(U'n');
    const auto begun = window.last_sent<command::BeginSession>();
    REQUIRE(begun);
    CHECK(begun->session.plate == 1);
    CHECK_FALSE(begun->session.mass_g); // it has to be weighed again
}

TEST_CASE("what a maker needs standing is large enough to be read from two metres") {
    // 34 px on a 24 inch screen of 1080 lines are 16 minutes of arc at 2 m (ISO 9241-303).
    const auto plate = test::full_plate();
    plate->naming.doubt.sentence.clear();
    plate->naming.doubt.ask_spot.reset();
    HeadlessWindow window(sample_snapshot(plate));
    for (const std::string& words :
         {std::string("Accepted"),
          base::signed_fixed(plate->figures[2].now->mode.frequency_hz - 349.0, 1),
          base::fixed(plate->figures[2].now->mode.frequency_hz, 1), std::string("101.2 g"),
          std::string("5")}) {
        INFO(words);
        REQUIRE(window.find(words));
        CHECK(window.find(words)->height >= 34.0);
    }
    plate->decision = {.advice = trends::Advice::tap, .taps_wanted = 2, .spot = taps::Spot::centre};
    window.now().striking_at = taps::Spot::centre;
    window.pictures(1);
    REQUIRE(window.find("centre"));
    CHECK(window.find("centre")->height >= 34.0);
}

TEST_CASE("where the decision asks for no tap the drawing asks for none, and Space is answered") {
    const auto plate = test::full_plate();
    HeadlessWindow window(sample_snapshot(plate));
    window.now().striking_at = taps::Spot::upper_end; // where the round had got to
    std::vector<trends::Decision> no_tap{plate->decision};
    for (const auto advice : {trends::Advice::stop, trends::Advice::weigh, trends::Advice::set_goal,
                              trends::Advice::other_goal}) {
        no_tap.push_back(plate->decision);
        no_tap.back().advice = advice;
    }
    no_tap.push_back({.advice = trends::Advice::tap, // named by hand
                      .taps_wanted = 1,
                      .spot = taps::Spot::centre,
                      .by_hand = true});
    for (const trends::Decision& one : no_tap) {
        plate->decision = one;
        window.pictures(2);
        INFO(trends::sentence_of(one));
        CHECK(window.reads("Enough taps"));
        CHECK_FALSE(window.reads("upper end"));
        CHECK_FALSE(window.reads("strike")); // of the marks in the drawing
        CHECK(window.reads("Taps count for: upper end."));
    }
    plate->decision = {
        .advice = trends::Advice::tap, .taps_wanted = 2, .spot = taps::Spot::upper_end};
    window.pictures(2);
    CHECK(window.reads("upper end"));
    CHECK(window.reads("strike"));
    CHECK_FALSE(window.reads("Taps count for: upper end."));
}

TEST_CASE("when taps suffice a key ends the tapping and asks for the mass, and the next session is "
          "heard again") {
    const auto plate = test::full_plate();
    HeadlessWindow window(sample_snapshot(plate));
    window.executes = false; // the input is still on in the next pictures
    window.strike(U'w');
    REQUIRE(window.last_sent<command::Listen>());
    CHECK_FALSE(window.last_sent<command::Listen>()->on);
    window.now().input.state = bench::InputState::off;
    window.executes = true;
    window.pictures(2);
    CHECK(window.reads("Tapping closed"));
    window.write("101,4"); // the cursor is in the mass
    window.press("Save");
    CHECK(window.last_sent<command::SaveSession>()->session.mass_g == Approx(101.4));
    CHECK_FALSE(window.last_sent<command::Listen>()->on);
    plate->session = 8; // another session lies on the bench
    window.pictures(2);
    CHECK(window.last_sent<command::Listen>()->on);
}

TEST_CASE("the key that leads to the mass is one, and stands beside no advice of wood") {
    const auto plate = test::full_plate();
    HeadlessWindow window(sample_snapshot(plate));
    const auto count = [&](std::string_view words) {
        return std::ranges::count(window.seen, words, &screen::Seen::words);
    };
    CHECK(count("End tapping") == 1); // among what a hand can do
    CHECK(count("E") == 1);
    plate->decision.advice = trends::Advice::weigh;
    window.pictures(2);
    CHECK(count("End tapping") == 0);
    CHECK(count("E") == 0);
    CHECK(count("W") == 2); // beside the sentence, and among what a hand can do
    window.press("Enter mass");
    REQUIRE(window.last_sent<command::Listen>());
    CHECK_FALSE(window.last_sent<command::Listen>()->on);
}

TEST_CASE("while taps are wanted nothing ends them") {
    const auto plate = test::full_plate();
    plate->decision = {.advice = trends::Advice::tap, .taps_wanted = 2, .spot = taps::Spot::centre};
    HeadlessWindow window(sample_snapshot(plate));
    CHECK_FALSE(window.reads("End tapping"));
    window.strike(U'w');
    CHECK_FALSE(window.last_sent<command::Listen>());
}

TEST_CASE("the decision stands on bench and drift, in the same words") {
    const auto plate = test::full_plate();
    plate->naming.doubt.sentence
        .clear(); // with it there is room for the sentence, not for its reason
    plate->naming.doubt.ask_spot.reset();
    HeadlessWindow window(sample_snapshot(plate));
    const std::string sentence = trends::sentence_of(plate->decision);
    CHECK(sentence == "Take 0.5 g at most, then tap again.");
    const auto* bench = window.find(sentence);
    REQUIRE(bench);
    CHECK(bench->height >= 30.0 * window.scale());
    CHECK(window.reads_within("would go beyond it with a chance of 87 %"));
    window.strike(screen::Key::f2);
    CHECK(window.reads_within(sentence));
    CHECK(window.reads_within("would go beyond it with a chance of 87 %"));
}

TEST_CASE("no wood is spoken of beside a microphone that was lost") {
    const auto plate = test::full_plate();
    REQUIRE(trends::is_of_wood(plate->decision.advice));
    const std::string sentence = trends::sentence_of(plate->decision);
    HeadlessWindow window(sample_snapshot(plate));
    CHECK(window.reads(sentence));
    window.now().input.state = bench::InputState::lost;
    window.pictures(2);
    CHECK_FALSE(window.reads_within(sentence));
    CHECK(window.reads("First the microphone, then wood."));
    window.now().input.state = bench::InputState::off; // the maker has ended the tapping
    window.pictures(2);
    CHECK(window.reads(sentence));
}

TEST_CASE("no grams are named while the model that will say them is being fitted") {
    const auto plate = test::full_plate();
    REQUIRE(trends::is_of_wood(plate->decision.advice));
    const std::string sentence = trends::sentence_of(plate->decision);
    HeadlessWindow window(sample_snapshot(plate));
    auto work = std::make_shared<bench::PlateWork>();
    work->of.history.plate.id = plate->history.plate.id;
    work->doing = "Fitting the model to this plate";
    window.now().work = work;
    window.pictures(2);
    CHECK_FALSE(window.reads_within(sentence));
    CHECK(window.reads("Wait: its model is being asked."));
    // Answered, or left off: what is known is said.
    work = std::make_shared<bench::PlateWork>(*work);
    work->doing.clear();
    window.now().work = work;
    window.pictures(2);
    CHECK(window.reads(sentence));
    // The model stood before, and a pass is being planned on it.
    work = std::make_shared<bench::PlateWork>(*work);
    work->doing = "Planning";
    work->next = std::make_shared<trends::NextPass>();
    window.now().work = work;
    window.pictures(2);
    CHECK(window.reads(sentence));
}

// Struck where the drawing showed it, every tap counted as struck anywhere, and "1 more good tap
// here: centre." stood there for good.
TEST_CASE("what says where the taps are struck is named beside the drawing, and means its spot") {
    auto plate = sample_plate(2);
    plate->decision = {
        .advice = trends::Advice::tap, .taps_wanted = 1, .spot = taps::Spot::lower_bout_right};
    HeadlessWindow window(sample_snapshot(plate));
    CHECK(window.reads("Space says that you strike here."));
    window.strike(U' ');
    REQUIRE(window.last_sent<command::StrikeAt>());
    CHECK(window.last_sent<command::StrikeAt>()->spot == taps::Spot::lower_bout_right);
    window.now().striking_at = taps::Spot::lower_bout_right;
    window.pictures(2);
    CHECK_FALSE(window.reads("Space says that you strike here."));
    // Where enough was struck, and another spot is asked for, that one is drawn.
    window.now().striking_at = taps::Spot::centre;
    window.now().good_taps_here = 2;
    window.pictures(2);
    CHECK(window.reads("lower bout, right"));
    CHECK(window.reads("Space says that you strike here."));
    window.now().good_taps_here = 0; // chosen just now
    window.pictures(2);
    CHECK(window.reads("centre"));
}

// At the goal "Wait: its model is being asked." stood in the colours and the size of "Stop".
TEST_CASE("what is waited for does not look like a stop") {
    auto plate = test::full_plate();
    plate->decision = {.advice = trends::Advice::stop, .number = 5, .passed = true};
    HeadlessWindow window(sample_snapshot(plate));
    const screen::Seen* stop = window.find(trends::sentence_of(plate->decision));
    REQUIRE(stop);
    CHECK(stop->height >= 34.0);
    auto work = std::make_shared<bench::PlateWork>();
    work->of.history.plate.id = plate->history.plate.id;
    work->doing = "Fitting the model to this plate";
    window.now().work = work;
    window.pictures(2);
    const screen::Seen* wait = window.find("Wait: its model is being asked.");
    REQUIRE(wait);
    CHECK(wait->height <= 34.0);
    const ImU32 filled = screen::packed(plot::light_palette().on_bad);
    const ImDrawData* drawn = ImGui::GetDrawData();
    for (int i = 0; i < drawn->CmdListsCount; ++i)
        for (const ImDrawVert& corner : drawn->CmdLists[i]->VtxBuffer)
            REQUIRE(corner.col != filled);
}

// "with a chance of 86 / %: it can't be put back."
TEST_CASE("a figure and its unit stand on one line") {
    auto plate = test::full_plate();
    plate->decision.past_it = 0.86;
    const std::string reason = trends::reason_of(plate->decision);
    REQUIRE(reason.find(" 86 %: ") != std::string::npos);
    int broken = 0;
    for (float width = 1000; width < 1500; width += 20) {
        HeadlessWindow window(sample_snapshot(plate), width, 800);
        broken += window.reads(reason) ? 0 : 1;
        for (const screen::Seen& one : window.seen) {
            INFO(width << ": " << one.words);
            CHECK_FALSE(one.words.starts_with("%"));
            CHECK_FALSE(one.words.starts_with("Hz above"));
        }
    }
    CHECK(broken > 0);
}

TEST_CASE("beside the drift no remark is dropped without a word") {
    auto plate = test::full_plate();
    for (int i = 0; i < 12; ++i)
        plate->remarks.push_back("Remark " + std::to_string(i) +
                                 " that takes a line or two of the room beside the chart.");
    HeadlessWindow window(sample_snapshot(plate));
    window.strike(screen::Key::f2);
    int shown = 0;
    while (window.reads_within("Remark " + std::to_string(shown) + " that"))
        ++shown;
    CHECK(shown < 12);
    CHECK(window.reads_within("and " + std::to_string(12 - shown) + " more remark"));
}

TEST_CASE("a notice stays until it is put away, and a newer one comes up") {
    HeadlessWindow window(sample_snapshot(sample_plate(2)));
    window.now().notices.push_back({4, true, "The disk is full."});
    window.pictures(1);
    CHECK(window.reads("The disk is full."));
    window.strike(Key::escape);
    CHECK_FALSE(window.reads("The disk is full."));
    window.now().notices.push_back({5, false, "The microphone is back."});
    window.pictures(1);
    CHECK(window.reads("The microphone is back."));
    window.press("Understood");
    CHECK_FALSE(window.reads("The microphone is back."));
}

TEST_CASE("the spectrum says frequency and level under the pointer, and nothing elsewhere") {
    HeadlessWindow window(sample_snapshot(sample_plate(2)));
    CHECK_FALSE(window.reads("100"));
    window.strike(U'x');
    const screen::Seen* hundred = window.find("100");
    const screen::Seen* top = window.find("0");
    REQUIRE((hundred && top));
    const double x = 0.5 * (hundred->where.left + hundred->where.right);
    window.point_at({x, 0.5 * (top->where.top + top->where.bottom)});
    const auto read = std::find_if(window.seen.begin(), window.seen.end(), [](const auto& s) {
        return s.words.ends_with(" cents, +0 dB");
    });
    REQUIRE(read != window.seen.end());
    const auto hz = base::parse_number(read->words.substr(0, read->words.find(' ')));
    CHECK(hz.value_or(0) ==
          Approx(100).margin(1.4)); // 940 Hz over some 700 pixels, of which whole ones count
    window.point_at({5, 5});
    CHECK_FALSE(window.reads_within(" cents, +0 dB"));
}

TEST_CASE(
    "what is not sure, the decision and its reason stand at the bench or are counted, in every "
    "size") {
    for (const auto& [width, height, text] : {std::tuple{1280, 800, 1.0},
                                              {1280, 800, 1.5},
                                              {1280, 800, 2.0},
                                              {1024, 640, 1.0},
                                              {1024, 768, 2.0},
                                              {1920, 1080, 1.0},
                                              {3840, 2160, 1.0},
                                              {3840, 2160, 2.0}}) {
        for (const auto language : wording::k_languages) {
            const auto full = test::full_plate();
            full->repeatability = "The taps of mode 2 are spread, as by a hold that moved.";
            HeadlessWindow window(sample_snapshot(full), static_cast<float>(width),
                                  static_cast<float>(height), text, language);
            INFO(width << " x " << height << ", text " << text);
            const bench::PlateView& plate = *window.now().plate;
            const auto unread = [&] {
                std::vector<std::string> words{plate.naming.doubt.sentence, plate.repeatability,
                                               trends::sentence_of(plate.decision),
                                               trends::reason_of(plate.decision)};
                std::erase_if(words, [&](const auto& one) { return window.reads_within(one); });
                return words;
            };
            const auto counted = [&](std::size_t count) {
                return count == 0 || window.reads_within(wording::say("{} more", count));
            };
            const auto before = unread();
            CHECK(counted(before.size()));
            window.strike(U'x');
            const auto all_read = [&] {
                return std::ranges::all_of(
                    before, [&](const auto& words) { return window.reads_within(words); });
            };
            // Large letters: the plate in place of the lanes, with whatever had no room above them.
            CHECK((counted(unread().size()) ||
                   (window.reads(wording::say("Figures")) && all_read())));
        }
    }
}
