// Words on paper: wrapped within their width, never lost, in any script; pages as many as it takes.
#include "report/flow.hpp"
#include "support/catch.hpp"
#include "support/temporary_folder.hpp"

#include <algorithm>

using namespace platewright;
using namespace platewright::report;

namespace {

std::string without_blanks(std::string text) {
    std::erase_if(text, [](char c) { return c == ' ' || c == '\n'; });
    return text;
}

} // namespace

TEST_CASE("wrapped lines keep within the width and lose no letter") {
    const test::TemporaryFolder folder;
    const CairoCanvas canvas(folder.path() / "page.pdf", PictureKind::pdf, size_of(Paper::a4));
    for (const std::string& text :
         {std::string{}, std::string{"short"}, std::string(300, 'w'), std::string{"a  b\n\nc"},
          std::string{"Fichte aus dem Fleimstal, sehr leicht, gehobelt und zweimal gewogen"},
          std::string{"秋田杉の表板、とても軽い、二度量った。まだ少し硬いようだ"},
          std::string{"Ель из Валь-ди-Фьемме, лёгкая и ровная, взвешена дважды"}})
        for (const double width : {40.0, 111.0, 500.0}) {
            CAPTURE(text, width);
            const auto lines = wrapped(canvas, text, width, 8.4);
            std::string joined;
            for (const std::string& line : lines) {
                CHECK(canvas.measure(line, 8.4, plot::Weight::regular).width <= width);
                joined += line;
            }
            CHECK(without_blanks(joined) == without_blanks(text));
        }
}

TEST_CASE("letters that the first font lacks are measured by one that has them") {
    const test::TemporaryFolder folder;
    const CairoCanvas canvas(folder.path() / "page.pdf", PictureKind::pdf, size_of(Paper::a4));
    const auto width = [&](const char* words) {
        return canvas.measure(words, 10.0, plot::Weight::regular).width;
    };
    CHECK(width("Скрипка") > 25.0);
    CHECK(width("Скрипка альта") > width("Скрипка"));
    CHECK(width("\xff\xfe broken") > 0.0); // what is no UTF-8 is shown as such, and stops nothing
}

TEST_CASE("a table longer than a page goes on, with its head, on the next") {
    const test::TemporaryFolder folder;
    Flow flow(folder.path() / "table.pdf", Paper::letter, "foot");
    FlowTable table{.columns = {{"number", 1.0, true}, {"words", 5.0}}, .rows = {}};
    for (int i = 0; i < 140; ++i)
        table.rows.push_back({std::to_string(i), "some words that say what it is"});
    flow.table(table);
    flow.finish();
    CHECK(flow.pages() == 3);
    CHECK(std::filesystem::file_size(folder.path() / "table.pdf") > 2000);
}

TEST_CASE("a cell longer than a page goes on, on the next") {
    const test::TemporaryFolder folder;
    Flow flow(folder.path() / "cell.pdf", Paper::a4, "foot");
    std::string words;
    for (int i = 0; i < 3000; ++i)
        words += "wood ";
    flow.table({.columns = {{"notes", 1.0}}, .rows = {{words}, {"after it"}}});
    flow.finish();
    CHECK(flow.pages() == 3);
}
