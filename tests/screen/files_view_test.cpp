#include "base/clock.hpp"
#include "headless_window.hpp"
#include "support/catch.hpp"
#include "support/temporary_folder.hpp"

#include <fstream>

using namespace platewright;
using screen::Key;
using test::HeadlessWindow;
using test::sample_snapshot;
using wording::Language;

namespace {

/// What the program would do, written down.
struct Asked {
    std::vector<screen::PrintOrder> printed;
    std::vector<screen::BundleOrder> out;
    std::vector<screen::EnterOrder> entered;
    std::vector<std::pair<std::filesystem::path, bool>>
        in; ///< a bundle, and whether it was only looked at
    screen::Outside outside() {
        screen::Outside o;
        o.print = [this](const auto& order) {
            printed.push_back(order);
            return bench::Errand{.doing = "printing"};
        };
        o.take_out = [this](const auto& order) {
            out.push_back(order);
            return bench::Errand{.doing = "writing"};
        };
        o.take_in = [this](const auto& file, bool only_look, bool) {
            in.emplace_back(file, only_look);
            return bench::Errand{.doing = "looking"};
        };
        o.enter = [this](const auto& order) {
            entered.push_back(order);
            return bench::Errand{.doing = "reading"};
        };
        o.folder = [] { return std::filesystem::path("/tmp/Documents"); };
        o.show_file = [](const auto&) { return std::string(); };
        return o;
    }
};

bench::Snapshot shown() {
    auto now = sample_snapshot(test::full_plate());
    now.copies = {{"123", "backups/123", ledger::LaidCopy::Kind::regular, 123, {}, 2'500'000}};
    now.binned = {{"session", 7, {}, "session 2026-03-14 09:26, plate “Wren back”"}};
    now.undoable = "session corrected";
    return now;
}

} // namespace

TEST_CASE("the files: a sheet is printed of the plate, its instrument, with charts, on the paper "
          "chosen") {
    Asked asked;
    HeadlessWindow window(shown(), 1280, 800, 1.0, Language::english, asked.outside());
    window.strike(Key::f10);
    window.press("US letter");
    window.press("Write this plate's sheet");
    REQUIRE(asked.printed.size() == 1);
    CHECK(asked.printed[0].what == screen::PrintOrder::What::plate);
    CHECK(asked.printed[0].id == window.now().plate->history.plate.id);
    CHECK(asked.printed[0].letter);
    CHECK_FALSE(asked.printed[0].figures);
    CHECK(asked.printed[0].folder == "/tmp/Documents");
    CHECK(window.last_sent<bench::command::RunErrand>().has_value());
    window.press("yes"); // its charts
    window.press("Write the instrument's record");
    REQUIRE(asked.printed.size() == 2);
    CHECK(asked.printed[1].what == screen::PrintOrder::What::instrument);
    CHECK(asked.printed[1].figures);
    window.press("Write its page for a browser");
    REQUIRE(asked.printed.size() == 3);
    CHECK(asked.printed[2].what == screen::PrintOrder::What::page);
    CHECK(asked.printed[2].id == asked.printed[1].id);
}

TEST_CASE("the files: what an errand does and what came of it is told, and it can be stopped") {
    Asked asked;
    HeadlessWindow window(shown(), 1280, 800, 1.0, Language::english, asked.outside());
    window.strike(Key::f10);
    auto now = shown();
    now.errand = std::make_shared<const bench::ErrandView>(
        bench::ErrandView{.number = 1, .doing = "Writing the bundle", .share = 0.25});
    window.show(now);
    CHECK(window.find("Writing the bundle") != nullptr);
    CHECK(window.find("25 % done") != nullptr);
    window.press("Stop");
    CHECK(window.last_sent<bench::command::StopWork>().has_value());
    now.errand = std::make_shared<const bench::ErrandView>(bench::ErrandView{
        .number = 1,
        .doing = "Writing the bundle",
        .done = true,
        .outcome = {.good = false, .sentence = "The disk is full.", .lines = {"and more"}}});
    window.show(now);
    CHECK(window.find("The disk is full.") != nullptr);
    CHECK(window.find("and more") != nullptr);
    CHECK(window.find("Stop") == nullptr);
}

TEST_CASE("the files: a bundle is looked at before it can be taken in") {
    const test::TemporaryFolder folder;
    std::ofstream(folder.path() / "wren.zip") << "x";
    setenv("HOME", folder.path().c_str(), 1); // where the list begins
    Asked asked;
    HeadlessWindow window(shown(), 1280, 800, 1.0, Language::english, asked.outside());
    window.strike(Key::f10);
    window.press("Bundles");
    for (int i = 0; i < 200 && window.find("wren.zip") == nullptr; ++i)
        window.pictures(1); // the folder is read aside
    window.press("wren.zip");
    CHECK(window.find("Take it in") == nullptr);
    window.press("Look what is in it");
    REQUIRE(asked.in.size() == 1);
    CHECK(asked.in[0].second);
    CHECK(asked.in[0].first.filename() == "wren.zip");
    auto now = shown();
    now.errand = std::make_shared<const bench::ErrandView>(
        bench::ErrandView{.number = 1,
                          .doing = "Looking",
                          .done = true,
                          .outcome = {.sentence = "two plates", .needs_a_second_word = true}});
    window.show(now);
    window.press("Take it in");
    REQUIRE(asked.in.size() == 2);
    CHECK_FALSE(asked.in[1].second);
    window.press("Undo the last bundle taken in");
    CHECK(window.last_sent<bench::command::UndoImport>().has_value());
    window.press("This plate");
    REQUIRE(asked.out.size() == 1);
    CHECK(asked.out[0].plate == window.now().plate->history.plate.id);
}

TEST_CASE("the files: copies are put back only on a second press, the bin on one, and the last act "
          "is undone") {
    Asked asked;
    HeadlessWindow window(shown(), 1280, 800, 1.0, Language::english, asked.outside());
    window.strike(Key::f10);
    CHECK(window.last_sent<bench::command::ListKept>().has_value());
    window.press("Copies");
    window.press("Lay a copy aside now");
    CHECK(window.last_sent<bench::command::CopyNow>().has_value());
    window.press("123");
    CHECK_FALSE(window.last_sent<bench::command::Restore>().has_value());
    window.press("Put this copy back");
    REQUIRE(window.last_sent<bench::command::Restore>().has_value());
    CHECK(window.last_sent<bench::command::Restore>()->copy == "123");
    window.press("Bin");
    window.press("session 2026-03-14 09:26, plate “Wren back”");
    REQUIRE(window.last_sent<bench::command::Unbin>().has_value());
    CHECK(window.last_sent<bench::command::Unbin>()->id == 7);
    window.press("Undo: session corrected");
    CHECK(window.last_sent<bench::command::UndoLast>().has_value());
}

TEST_CASE("what is typed right after a new session was asked for waits for that session") {
    auto now = sample_snapshot(test::full_plate());
    HeadlessWindow window(now);
    window.strike(Key::f1);
    window.executes = false;
    window.strike(U'n');
    window.strike(U'e');
    CHECK(window.find("[mass, g]") == nullptr);
    window.executes = true;
    window.pictures(4);
    CHECK(window.find("[mass, g]") != nullptr);
}

TEST_CASE("the files: recordings become a session of the plate, of their stage, mass and day") {
    const test::TemporaryFolder folder;
    std::ofstream(folder.path() / "taps.wav") << "x";
    setenv("HOME", folder.path().c_str(), 1); // where the list begins
    for (const bool is_date : {false, true}) {
        CAPTURE(is_date);
        Asked asked;
        HeadlessWindow window(shown(), 1280, 800, 1.0, Language::english, asked.outside());
        window.strike(Key::f10);
        window.press("Recordings");
        for (int i = 0; i < 200 && window.find("taps.wav") == nullptr; ++i)
            window.pictures(1); // the folder is read aside
        window.press("taps.wav");
        window.press("[mass, g]");
        window.write("101,4");
        window.press("[day, or day and time; empty: the file's own]");
        window.write(is_date ? "14.3.2026" : "31.2.2026");
        window.press("Take 1 file in");
        if (!is_date) {
            CHECK(asked.entered.empty());
            CHECK(window.reads_within("is no date"));
            continue;
        }
        REQUIRE(asked.entered.size() == 1);
        CHECK(asked.entered[0].plate == window.now().plate->history.plate.id);
        REQUIRE(asked.entered[0].files.size() == 1);
        CHECK(asked.entered[0].files[0].filename() == "taps.wav");
        CHECK(asked.entered[0].mass_g == 101.4);
        CHECK(base::local_date(asked.entered[0].begun.value()) == "2026-03-14");
        CHECK(window.last_sent<bench::command::RunErrand>().has_value());
    }
}
