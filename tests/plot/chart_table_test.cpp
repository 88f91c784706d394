#include "plot/chart.hpp"
#include "support/catch.hpp"
#include "wording/language.hpp"

using namespace platewright;
using plot::chart_table;

namespace {

/// An invented chart: a curve of two points, two marks of which one has a bar, a signpost.
plot::Chart chart() {
    plot::Chart chart;
    chart.across.title = "mass, g";
    chart.up.title = "frequency,\tHz";
    chart.curves.push_back({.points = {{130.0, 355.25}, {128.5, 352.0}}, .name = "fit"});
    chart.marks.push_back(
        {.at = {{130.0, 355.0}, {128.5, 0.000125}}, .spread = {0.75}, .name = "mode 5"});
    chart.signposts.push_back({.x = 129.0, .words = "bar fitted"});
    chart.signposts.push_back({.x = 120.0, .words = ""});
    return chart;
}

} // namespace

TEST_CASE("a chart's points are lines of four fields, headed by what its axes are") {
    CHECK(chart_table(chart()) == "\tmass, g\tfrequency, Hz\t\u00b1\n"
                                  "fit\t130.0000\t355.2500\t\n"
                                  "fit\t128.5000\t352.0000\t\n"
                                  "mode 5\t130.0000\t355.0000\t0.750000\n"
                                  "mode 5\t128.5000\t0.000125\t\n"
                                  "bar fitted\t129.0000\t\t\n");
}

TEST_CASE("figures of a chart have the maker's decimal mark, as the spreadsheet expects it") {
    const wording::Speaking german(wording::Language::german);
    const std::string table = chart_table(chart());
    CHECK(table.find("fit\t130,0000\t355,2500") != std::string::npos);
    CHECK(table.find('.') == std::string::npos);
}

TEST_CASE("a curve without a name bears its end's words, and an empty chart has a head alone") {
    plot::Chart one = chart();
    one.curves[0].name.clear();
    one.curves[0].end_label = "352.0";
    CHECK(chart_table(one).find("\n352.0\t130.0000") != std::string::npos);
    CHECK(chart_table({}) == "\t\t\t\u00b1\n");
}
