// Words on paper: wrapped within their width, never lost, in any script; pages as many as it takes.
#include "report/sheet/flow.hpp"
#include "support/catch.hpp"
#include "support/temporary_folder.hpp"

#include <algorithm>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <iterator>

using namespace platewright;
using namespace platewright::report;

namespace {

namespace fs = std::filesystem;

/// The words on the pages, by poppler's pdftotext; a form feed after each page. Empty where it is
/// not installed.
std::string text_of(const fs::path& pdf) {
    const fs::path text = pdf.string() + ".txt";
    const std::string command =
        "pdftotext -layout '" + pdf.string() + "' '" + text.string() + "' 2>/dev/null";
    if (std::system(command.c_str()) != 0) // NOLINT(concurrency-mt-unsafe): one thread
        return {};
    std::ifstream in(text);
    return {std::istreambuf_iterator<char>(in), {}};
}

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

TEST_CASE("no figure and no word of a head is broken where the page has room for it") {
    const test::TemporaryFolder folder;
    const fs::path file = folder.path() / "narrow.pdf";
    Flow flow(file, Paper::a4, "foot");
    FlowTable table{.columns = {{"g", 0.2, true}, {"Oberflächenfeuchte", 0.2}, {"notes", 9.0}},
                    .rows = {}};
    table.rows.push_back(
        {"1205,0", "ja", "some words that may well be broken over lines " + std::string(300, 'w')});
    flow.table(table);
    flow.finish();
    const std::string text = text_of(file);
    if (text.empty())
        return;
    CHECK(text.find("1205,0") != std::string::npos);
    CHECK(text.find("Oberflächenfeuchte") != std::string::npos);
}

TEST_CASE("a heading goes with what follows it, and a sheet's last page is worth turning to") {
    const test::TemporaryFolder folder;
    const fs::path file = folder.path() / "sheet.pdf";
    const FlowTable table{.columns = {{"words", 1.0}}, .rows = {{"a row"}, {"a row"}}};
    int one_page = 0;
    for (int lines = 40; lines < 75; ++lines) { // whatever the page holds before
        const int pages = lay_out(file, Paper::a4, "foot", [&](Flow& flow, double scale) {
            flow.figures(120.0 * scale,
                         {{.share = 1.0, .draw = [](const plot::Box&, plot::Canvas&) {}}});
            for (int i = 0; i < lines; ++i)
                flow.paragraph("line");
            flow.heading("Heading");
            flow.table(table);
        });
        const std::string text = text_of(file);
        if (text.empty())
            return;
        const auto heading = text.find("Heading");
        const auto row = text.find("a row");
        INFO(lines << " lines, " << pages << " pages");
        REQUIRE(heading != std::string::npos);
        CHECK(text.find('\f', heading) > row); // pdftotext puts a form feed after each page
        one_page += pages == 1 ? 1 : 0;
    }
    // Set as it came only the shortest has one page; set a little smaller, three more.
    CHECK(one_page >= 3);
}
