#include "plot/chart_table.hpp"

#include "wording/say.hpp"

#include <algorithm>
#include <cmath>

namespace platewright::plot {
namespace {

/// Without what would end a field or a row.
std::string field(std::string words) {
    for (char& c : words) {
        c = c == '\t' || c == '\n' || c == '\r' ? ' ' : c;
    }
    return words;
}

/// So many decimals that seven digits count.
std::string number(double value) {
    const double size = std::abs(value);
    const int before = size < 1.0 ? 1 : static_cast<int>(std::floor(std::log10(size))) + 1;
    return wording::figure(value, std::clamp(7 - before, 0, 6));
}

void add_rows(const Chart& chart, std::string& out) {
    const auto row = [&out](const std::string& name, Point at, const std::string& spread) {
        out += field(name) + "\t" + number(at.x) + "\t" + number(at.y) + "\t" + spread + "\n";
    };
    for (const Curve& curve : chart.curves) {
        for (const Point at : curve.points) {
            row(curve.name.empty() ? curve.end_label : curve.name, at, {});
        }
    }
    for (const Marks& marks : chart.marks) {
        for (std::size_t i = 0; i < marks.at.size(); ++i) {
            row(marks.name, marks.at[i],
                i < marks.spread.size() ? number(marks.spread[i]) : std::string());
        }
    }
    for (const Signpost& post : chart.signposts) {
        if (!post.words.empty()) {
            out += field(post.words) + "\t" + number(post.x) + "\t\t\n";
        }
    }
    for (const Chart& strip : chart.strips) {
        add_rows(strip, out);
    }
}

} // namespace

std::string chart_table(const Chart& chart) {
    std::string out =
        "\t" + field(chart.across.title) + "\t" + field(chart.up.title) + "\t\u00b1\n";
    add_rows(chart, out);
    return out;
}

} // namespace platewright::plot
