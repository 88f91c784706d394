#include "plot/layout.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>

namespace platewright::plot {
namespace {

double width_of(const Canvas& canvas, const std::string& words, double em,
                Weight weight = Weight::regular) {
    return canvas.measure(words, em, weight).width;
}

/// Names of curves, bands and marks in that order; one entry a name, so that a track's line and
/// its points share one.
std::vector<KeyPlace> key_entries(const Chart& chart) {
    std::vector<KeyPlace> entries;
    const auto add = [&entries](KeyPlace entry) {
        const bool listed = std::any_of(entries.begin(), entries.end(),
                                        [&entry](const auto& e) { return e.words == entry.words; });
        if (!entry.words.empty() && !listed) {
            entries.push_back(std::move(entry));
        }
    };
    for (const Marks& m : chart.marks) {
        add({{}, KeyKind::mark, {m.colour, 1.0, Dash::solid}, m.shape, m.name});
    }
    for (auto c = chart.curves.rbegin(); c != chart.curves.rend(); ++c) {
        add({{}, KeyKind::line, c->pen, Shape::disc, c->name});
    }
    for (const Band& b : chart.bands) {
        add({{}, KeyKind::area, {b.colour, 1.0, Dash::solid}, Shape::square, b.name});
    }
    return entries;
}

/// Sets the key in rows between left and right, downwards from `top`; gives the y below it.
double set_key(std::vector<KeyPlace>& key, const Canvas& canvas, double left, double right,
               double top, double em) {
    if (key.empty()) {
        return top;
    }
    double x = left;
    double y = top + 0.75 * em;
    for (KeyPlace& entry : key) {
        const double width = 1.8 * em + width_of(canvas, entry.words, em) + 1.2 * em;
        if (x > left && x + width - 1.2 * em > right) {
            x = left;
            y += 1.5 * em;
        }
        entry.at = {x, y};
        x += width;
    }
    return y + 0.75 * em;
}

double head_width(const Canvas& canvas, const Signpost& post, double em) {
    return width_of(canvas, post.words, em, Weight::bold) + (post.shaped ? em : 0.0);
}

/// Heads of the signposts in as few rows as keep them apart; rows count downwards from `top`.
std::vector<HeadPlace> set_heads(const Chart& chart, const Canvas& canvas, const Scale& across,
                                 const Box& inside, double em) {
    std::vector<std::size_t> order(chart.signposts.size());
    std::iota(order.begin(), order.end(), std::size_t{0});
    std::sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
        return across.place(chart.signposts[a].x) < across.place(chart.signposts[b].x);
    });
    std::vector<double> row_ends;
    std::vector<HeadPlace> heads;
    for (const std::size_t i : order) {
        const Signpost& post = chart.signposts[i];
        const double x = across.place(post.x);
        if (x < inside.left - 1.0 || x > inside.right + 1.0) {
            continue;
        }
        if (post.words.empty()) {
            heads.push_back({i, {x, 0.0}}); // a bare line needs no room at the head
            continue;
        }
        const double width = head_width(canvas, post, em);
        const double rightmost = std::max(inside.left, inside.right - width);
        const double left = std::clamp(x - 0.5 * width, inside.left, rightmost);
        auto row = std::find_if(row_ends.begin(), row_ends.end(),
                                [&](double end) { return left > end + 0.5 * em; });
        if (row == row_ends.end()) {
            row = row_ends.insert(row_ends.end(), 0.0);
        }
        *row = left + width;
        const auto index = static_cast<double>(row - row_ends.begin());
        heads.push_back({i, {left, (index + 0.5) * 1.35 * em}});
    }
    return heads;
}

/// Moves labels apart vertically, keeping their order, and inside the frame.
void spread_apart(std::vector<EndPlace>& ends, const Box& inside, double em) {
    std::sort(ends.begin(), ends.end(),
              [](const EndPlace& a, const EndPlace& b) { return a.at.y < b.at.y; });
    const double gap = 1.15 * em;
    for (std::size_t i = 0; i < ends.size(); ++i) {
        const double least = i == 0 ? inside.top + 0.5 * em : ends[i - 1].at.y + gap;
        ends[i].at.y = std::max(ends[i].at.y, least);
    }
    for (std::size_t i = ends.size(); i-- > 0;) {
        const double most =
            i + 1 == ends.size() ? inside.bottom - 0.5 * em : ends[i + 1].at.y - gap;
        ends[i].at.y = std::min(ends[i].at.y, most);
    }
}

std::vector<EndPlace> set_ends(const Chart& chart, const Box& inside, double em) {
    const Scale up(chart.up, inside.bottom, inside.top);
    const Scale across(chart.across, inside.left, inside.right);
    std::vector<EndPlace> ends;
    for (const Curve& curve : chart.curves) {
        if (curve.end_label.empty() || curve.points.empty()) {
            continue;
        }
        const Point end{across.place(curve.points.back().x), up.place(curve.points.back().y)};
        // Where the chart is looked into, an end may be out of sight.
        const Box near{inside.left - em, inside.top - em, inside.right + em, inside.bottom + em};
        if (near.holds(end)) {
            ends.push_back({{inside.right + 0.5 * em, end.y}, curve.end_label, curve.pen.colour});
        }
    }
    spread_apart(ends, inside, em);
    return ends;
}

double widest(const std::vector<Tick>& ticks, const Canvas& canvas, double em) {
    double width = 0.0;
    for (const Tick& tick : ticks) {
        width = std::max(width, width_of(canvas, tick.words, em));
    }
    return width;
}

int across_room(const Axis& axis, const Canvas& canvas, double width, double em) {
    const double one = std::max(4.0 * em, widest(ticks(axis, 8), canvas, em) + 1.5 * em);
    return std::max(2, static_cast<int>(width / one));
}

constexpr double k_block_row = 1.3, k_least_block_row = 1.1; // em
constexpr double k_block_share = 0.42; // of the width, at most beside; else the block stands above

double block_width(const Chart& chart, const Canvas& canvas, double em) {
    double width = chart.end.name.empty()
                       ? 0.0
                       : width_of(canvas, chart.end.name, em, Weight::bold) + 1.2 * em;
    for (const std::string& line : chart.end.lines) {
        width = std::max(width, width_of(canvas, line, em));
    }
    return width;
}

double block_rows(const Chart& chart) {
    return static_cast<double>(chart.end.lines.size()) + (chart.end.name.empty() ? 0.0 : 1.0);
}

/// Beside the line's end, within the strip; its lines closer where the strip is low.
void set_block(Layout& out, const Chart& chart, double em) {
    const Box& inside = out.inside;
    const double rows = block_rows(chart);
    const double room = inside.height() + 0.4 * em;
    out.block_row = std::clamp(room / rows, k_least_block_row * em, k_block_row * em);
    const auto fitting = static_cast<std::size_t>(std::max(1.0, room / out.block_row + 0.01));
    const std::size_t named = chart.end.name.empty() ? 0 : 1;
    out.block_lines = std::min(chart.end.lines.size(), fitting - std::min(fitting, named));
    const Scale up(chart.up, inside.bottom, inside.top);
    double y = inside.top;
    if (!chart.marks.empty() && !chart.marks.back().at.empty()) {
        y = up.place(chart.marks.back().at.back().y) - 0.5 * out.block_row;
    }
    const double shown = static_cast<double>(out.block_lines + named);
    const double lowest = inside.bottom + 0.2 * em - shown * out.block_row;
    out.block = {inside.right + 0.8 * em, std::max(inside.top - 0.2 * em, std::min(y, lowest))};
}

} // namespace

Layout lay_out(const Chart& chart, const Box& wanted, const Canvas& canvas, double em,
               const InStrips* in_strips) {
    Layout out;
    out.area = wanted;
    out.area.right = std::max(wanted.right, wanted.left + 12.0 * em);
    out.area.bottom = std::max(wanted.bottom, wanted.top + (in_strips != nullptr ? 2.0 : 8.0) * em);
    const Box& area = out.area;

    out.bears_across = in_strips == nullptr || in_strips->last;
    const double foot = out.bears_across ? 3.1 * em : 0.4 * em; // tick words, the title below them
    const int word_rows =
        static_cast<int>(area.height() / ((in_strips != nullptr ? 2.0 : 2.6) * em)); // of words
    out.up_ticks = ticks(chart.up, std::max(in_strips != nullptr ? 3 : 2, word_rows));
    double left = area.left + widest(out.up_ticks, canvas, em) + 0.8 * em;
    double end_room = 0.8 * em;
    for (const Curve& curve : chart.curves) {
        if (!curve.end_label.empty()) {
            end_room = std::max(end_room, width_of(canvas, curve.end_label, em, Weight::bold) + em);
        }
    }
    const double block = block_width(chart, canvas, em);
    const bool beside = block <= k_block_share * area.width();
    if (block > 0.0 && beside) {
        end_room = std::max(end_room, block + 1.2 * em);
    }
    double right = std::max(left + 2.0 * em, area.right - end_room);
    if (in_strips != nullptr) {
        left = std::max(left, in_strips->left);
        right = in_strips->right > 0.0 ? std::min(right, in_strips->right) : right;
    }

    double top = area.top + (chart.title.empty() ? 0.0 : 1.7 * em);
    out.up_title = {area.left, top};
    const double title_width =
        chart.up.title.empty() ? 0.0 : width_of(canvas, chart.up.title, em) + 2.0 * em;
    double key_bottom = top;
    if (in_strips == nullptr) { // a strip's figures say what it is
        out.key = key_entries(chart);
        key_bottom =
            set_key(out.key, canvas, area.left + title_width, area.right, top - 0.2 * em, em);
    }
    top = std::max(key_bottom, chart.up.title.empty() ? top : top + 1.3 * em) + 0.2 * em;
    if (block > 0.0 && !beside) {
        out.block = {area.left, top};
        out.block_row = k_block_row * em;
        out.block_lines = chart.end.lines.size();
        top += block_rows(chart) * out.block_row + 0.6 * em;
    }

    out.inside = {left, top, right, area.bottom - foot};
    out.heads = set_heads(chart, canvas, Scale(chart.across, left, right), out.inside, em);
    double rows = 0.0;
    for (const HeadPlace& head : out.heads) {
        rows = std::max(rows, head.at.y > 0.0 ? head.at.y + 0.7 * em : 0.0);
    }
    for (HeadPlace& head : out.heads) {
        head.at.y += top;
    }
    out.inside.top = std::min(top + rows, out.inside.bottom - (in_strips ? 1.0 : 2.0) * em);
    out.ends = set_ends(chart, out.inside, em);
    if (block > 0.0 && beside) {
        set_block(out, chart, em);
    }
    out.across_ticks = ticks(chart.across, across_room(chart.across, canvas, right - left, em));
    return out;
}

StripsLayout lay_out_strips(const Chart& chart, const Box& area, const Canvas& canvas, double em) {
    StripsLayout out{chart.strips, {}, {}};
    double shares = 0.0;
    InStrips common;
    for (std::size_t i = 0; i < out.charts.size(); ++i) {
        Chart& strip = out.charts[i];
        const bool first = i == 0;
        strip.across = chart.across;
        strip.title = first ? chart.title : std::string();
        strip.up.title = first ? chart.up.title : std::string();
        strip.signposts = chart.signposts;
        if (!first) { // the line goes through all, its head stands once
            std::ranges::for_each(strip.signposts, [](Signpost& post) { post.words.clear(); });
        }
        shares += strip.share;
        const InStrips alone{0.0, 0.0, first, i + 1 == out.charts.size()};
        const Box inside = lay_out(strip, area, canvas, em, &alone).inside;
        common.left = std::max(common.left, inside.left);
        common.right = i == 0 ? inside.right : std::min(common.right, inside.right);
        out.stand.push_back(alone);
    }
    for (InStrips& stand : out.stand) {
        stand.left = common.left;
        stand.right = common.right;
    }
    // What stands above the first frame and below the last is theirs; the rest is shared.
    const double head =
        lay_out(out.charts.front(), area, canvas, em, &out.stand.front()).inside.top - area.top;
    const double foot = 2.7 * em;
    const double shared = std::max(0.0, area.height() - head - foot);
    double y = area.top;
    for (std::size_t i = 0; i < out.charts.size(); ++i) {
        const double height = shared * out.charts[i].share / shares +
                              (out.stand[i].first ? head : 0.0) + (out.stand[i].last ? foot : 0.0);
        out.areas.push_back({area.left, y, area.right, y + height});
        y += height;
    }
    return out;
}

} // namespace platewright::plot
