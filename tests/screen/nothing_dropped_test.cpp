// What the program has to say to the maker is drawn, or counted where it has no room; none of it is
// left out without a word. Each sentence here is of our making, so that it is known when it is
// missing.
#include "carved_plate.hpp"
#include "headless_window.hpp"
#include "support/catch.hpp"
#include "support/sample_stock.hpp"

#include <set>

using namespace platewright;
using screen::Key;
using test::HeadlessWindow;

namespace {

std::vector<std::string> told(const std::string& where) {
    std::vector<std::string> all;
    for (int i = 1; i <= 3; ++i) {
        all.push_back("Remark " + std::to_string(i) + " of " + where + ".");
    }
    return all;
}

/// All that is written from the top of a view, or of the pages in it, to the end.
std::set<std::string> all_read(HeadlessWindow& window) {
    std::set<std::string> words;
    const auto read = [&] {
        for (const auto& seen : window.seen) {
            words.insert(seen.words);
        }
    };
    read();
    window.strike(Key::home);
    read();
    for (int i = 0; i < 40 && window.page_down(); ++i) {
        read();
    }
    // Pages beside each other scroll by the wheel, each under the mouse.
    const ImVec2 size = ImGui::GetIO().DisplaySize;
    for (const float across : {0.3F, 0.6F, 0.85F}) {
        window.point_at({static_cast<double>(across * size.x), 0.8 * static_cast<double>(size.y)});
        for (int i = 0; i < 25; ++i) {
            window.wheel(-3.0F);
            read();
        }
    }
    return words;
}

void check_told(HeadlessWindow& window, const std::vector<std::string>& remarks) {
    const std::set<std::string> words = all_read(window);
    for (const std::string& remark : remarks) {
        INFO(remark);
        const bool is_there = std::ranges::any_of(
            words, [&](const std::string& line) { return line.find(remark) != std::string::npos; });
        CHECK(is_there);
    }
}

/// The carved plate with remarks wherever there can be some.
bench::Snapshot remarking() {
    auto now = test::planned_pass();
    auto work = std::make_shared<bench::PlateWork>(*test::carved().work);
    auto map = std::make_shared<trends::MapReview>(*work->map);
    map->remarks = told("the map");
    work->map = map;
    auto study = std::make_shared<trends::PlateStudy>(*work->study);
    study->remarks = told("the fit");
    study->rests_on = told("what it rests on");
    work->study = study;
    auto plan = std::make_shared<trends::PlanAnswer>(*work->plan);
    plan->plan.cautions = told("the plan");
    work->plan = plan;
    auto trial = std::make_shared<trends::CutTrial>(*work->trial);
    trial->cautions = told("the trial");
    work->trial = trial;
    now.work = work;
    auto plate = std::make_shared<bench::PlateView>(*now.plate);
    plate->remarks = told("the drift");
    now.plate = plate;
    auto stock = std::make_shared<bench::StockView>(*test::sample_stock());
    stock->woods.front().figures->remarks = told("the wood");
    now.stock = stock;
    return now;
}

} // namespace

TEST_CASE("whatever a view has to remark is drawn in it, in small and large windows") {
    struct Case {
        const char* what;
        Key door;
        std::optional<wording::Phrase> sheet;
    };
    const std::vector<Case> cases{{"the map", Key::f8, wording::Phrase("Thickness")},
                                  {"the fit", Key::f8, wording::Phrase("Next pass")},
                                  {"what it rests on", Key::f8, wording::Phrase("Next pass")},
                                  {"the plan", Key::f8, wording::Phrase("Next pass")},
                                  {"the trial", Key::f8, wording::Phrase("Trial")},
                                  {"the wood", Key::f9, std::nullopt}};
    for (const auto& [width, height, text] :
         {std::tuple{1280.0F, 800.0F, 1.0}, std::tuple{1280.0F, 800.0F, 2.0},
          std::tuple{3840.0F, 2160.0F, 1.0}}) {
        for (const Case& one : cases) {
            INFO(one.what << ", " << width << " x " << height << ", text " << text);
            HeadlessWindow window(remarking(), width, height, text);
            window.strike(one.door);
            if (one.sheet) {
                window.press(wording::say(*one.sheet));
            }
            check_told(window, told(one.what));
        }
    }
}

TEST_CASE("beside the bench the drift's remarks are drawn or counted") {
    auto now = remarking();
    auto plate = std::make_shared<bench::PlateView>(*now.plate);
    for (int i = 4; i <= 30; ++i) {
        plate->remarks.push_back("Remark " + std::to_string(i) + " of the drift.");
    }
    now.plate = plate;
    for (const auto& [width, height] : {std::pair{2560.0F, 1440.0F}, std::pair{3840.0F, 2160.0F}}) {
        HeadlessWindow window(now, width, height);
        int unread = 0;
        for (const std::string& remark : plate->remarks) {
            unread += window.reads_within(remark) ? 0 : 1;
        }
        INFO(width << ": " << unread << " unread");
        CHECK(
            (unread == 0 || window.reads_within("and " + std::to_string(unread) + " more remark")));
    }
}

TEST_CASE("what a planned pass says at the bench is drawn or counted") {
    for (const auto& [width, height, text] :
         {std::tuple{1024.0F, 640.0F, 1.0}, std::tuple{1280.0F, 800.0F, 1.0},
          std::tuple{1280.0F, 800.0F, 2.0}, std::tuple{2560.0F, 1440.0F, 1.0},
          std::tuple{3840.0F, 2160.0F, 1.0}}) {
        INFO(width << " x " << height << ", text " << text);
        HeadlessWindow window(test::planned_pass(), width, height, text);
        if (window.reads_within(" more") && text > 1.5) {
            window.strike(U'x'); // the plate in place of the lanes
        }
        const auto read = [&](const char* words) { return window.reads_within(words); };
        CHECK(read("Next pass: "));
        // The pass is more than the decision allows: that is said first, whatever else has no room.
        CHECK(read("g at most, then tap again."));
        const bool all = read(" mm, deepest ") && read("after the next pass");
        CHECK((all || read(" more (F8)")));
    }
}

TEST_CASE("on a day of other air the bench says what that alone can do, unless all is in one air") {
    const auto plate = test::full_plate();
    plate->naming.doubt.sentence.clear();
    plate->naming.doubt.ask_spot.reset();
    HeadlessWindow window(test::sample_snapshot(plate), 1920, 1400);
    CHECK_FALSE(window.reads_within("The air has changed since"));
    plate->history.sessions.back().session.humidity_pct = 78.0; // 48 before
    window.pictures(1);
    CHECK(window.reads_within("The air has changed since"));
    CHECK(window.reads_within("compare in one air (F2, K)"));
    plate->in_air =
        std::make_shared<trends::HistoryInAir>(trends::in_air(plate->history, {20.0, 50.0}));
    window.pictures(1);
    CHECK_FALSE(window.reads_within("The air has changed since"));
}
