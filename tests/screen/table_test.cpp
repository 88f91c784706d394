// Tables: a row a line, sorted by their heads, by mouse and by keys.
#include "headless_window.hpp"
#include "screen/fields/table.hpp"
#include "support/catch.hpp"
#include "support/sample_stock.hpp"

#include <array>

using namespace platewright;
using namespace platewright::screen;
using test::HeadlessWindow;
using test::sample_snapshot;

namespace {

std::vector<TableRow> rows() {
    return {{1, false, {{"Pear"}, {"12", 12.0}}},
            {2, false, {{"apple"}, {"\u2013"}}},
            {3, false, {{"Quince"}, {"9", 9.0}}},
            {4, false, {{"Apple"}, {"12", 12.0}}}};
}

using Order = std::vector<std::size_t>;

/// The names under the first head, from the top.
std::vector<std::string> from_top(const HeadlessWindow& window,
                                  const std::vector<std::string>& names) {
    std::vector<std::pair<double, std::string>> found;
    for (const std::string& name : names) {
        const Seen* seen = window.find(name);
        REQUIRE(seen != nullptr);
        found.emplace_back(seen->where.top, name);
    }
    std::ranges::sort(found);
    std::vector<std::string> out;
    for (const auto& [top, name] : found) {
        out.push_back(name);
    }
    return out;
}

} // namespace

TEST_CASE("rows are sorted by value or words, what is not known stands last, equals as given") {
    CHECK(sorted(rows(), {}) == Order{0, 1, 2, 3});
    CHECK(sorted(rows(), {0, false}) == Order{1, 3, 0, 2});
    CHECK(sorted(rows(), {0, true}) == Order{2, 0, 1, 3});
    CHECK(sorted(rows(), {1, false}) == Order{2, 0, 3, 1});
    CHECK(sorted(rows(), {1, true}) == Order{0, 3, 2, 1});
}

TEST_CASE("in a wide window a row's figures stand near its name") {
    auto now = sample_snapshot(test::full_plate());
    auto stock = std::make_shared<bench::StockView>(*test::sample_stock());
    stock->woods.resize(1);
    now.stock = stock;
    HeadlessWindow window(now, 3840, 2160);
    window.strike(Key::f9);
    const Seen* head = window.find("handbook wood");
    const Seen* figure = window.find("421");
    REQUIRE((head && figure));
    CHECK(head->where.left < 600.0 * window.scale());
    CHECK(figure->where.left < 1200.0 * window.scale());
}

TEST_CASE("a press on a head sorts the wood by it, again the other way, a third time as it was") {
    auto now = sample_snapshot(test::full_plate());
    auto stock = std::make_shared<bench::StockView>(*test::sample_stock());
    stock->woods.resize(2); // both with figures
    REQUIRE(stock->woods.at(0).figures);
    auto& second = stock->woods.at(1);
    second.figures = stock->woods.at(0).figures;
    second.figures->density_kg_m3 = trends::Figure{377.0, 5.0};
    now.stock = stock;
    HeadlessWindow window(now);
    window.strike(Key::f9);
    // The chosen wood's name heads its page as well: only what stands in the table counts.
    const auto order = [&] {
        std::vector<std::pair<double, double>> tops;
        for (const char* figure : {"421", "377"}) {
            const Seen* seen = window.find(figure);
            REQUIRE(seen != nullptr);
            tops.emplace_back(seen->where.top, seen->height);
        }
        return tops[0].first < tops[1].first;
    };
    CHECK(order());
    window.press("density");
    CHECK_FALSE(order());
    window.press("density");
    CHECK(order());
    window.press("density");
    CHECK(order());
    const Seen* figure = window.find("421");
    const Seen* doubt = window.find("\u00b1 12");
    REQUIRE((figure && doubt));
    CHECK(doubt->height < figure->height);                // lighter: smaller, and faint
    CHECK(doubt->where.left > figure->where.right - 1.0); // on its line
    CHECK(std::abs(doubt->where.top - figure->where.top) < 8.0);
}

TEST_CASE("without room for its columns a row folds into two lines and no more, in any language") {
    for (const auto language :
         {wording::Language::english, wording::Language::german, wording::Language::italian}) {
        HeadlessWindow window(sample_snapshot(test::full_plate()), 1280, 800, 1.0, language);
        window.strike(Key::f4);
        std::vector<double> tops; // of the rows, by the instrument's name in each
        for (const Seen& seen : window.seen) {
            if (seen.words.starts_with("Larkfield ") && seen.where.left < 160.0 &&
                seen.where.top > 190.0) {
                tops.push_back(seen.where.top);
            }
        }
        std::ranges::sort(tops);
        REQUIRE(tops.size() >= 2);
        CHECK(tops[1] - tops[0] < 2.0 * 26.0 + 1.0);
    }
}

TEST_CASE("a row of a table is 26 px high at 1280 x 800") {
    auto now = sample_snapshot(test::full_plate());
    HeadlessWindow window(now);
    window.strike(Key::f4);
    const Seen* back = window.find("back");
    const Seen* top = window.find("top");
    REQUIRE((back && top));
    CHECK(std::abs(std::abs(back->where.top - top->where.top) - 26.0) < 1.0);
}

TEST_CASE("plates are sorted by their heads, and rows and heads are reached by the arrow keys") {
    HeadlessWindow window(sample_snapshot(test::full_plate()));
    window.strike(Key::f4);
    const std::vector<std::string> names{"Larkfield 3, violin", "Larkfield 7, violin"};
    const auto newest_first = from_top(window, names);
    window.press("instrument");
    CHECK(from_top(window, names) == names);
    window.press("instrument");
    CHECK(from_top(window, names) == std::vector<std::string>{names[1], names[0]});
    window.press("instrument");
    CHECK(from_top(window, names) == newest_first);
    // From the head downwards, to a row, which Enter opens; and up to the head, which it sorts by.
    window.sent.clear();
    window.move_focus(ImGuiKey_DownArrow);
    window.strike(Key::enter);
    CHECK(window.last_sent<bench::command::OpenPlate>());
    window.move_focus(ImGuiKey_UpArrow);
    window.strike(Key::enter);
    CHECK(from_top(window, names) == names);
}
