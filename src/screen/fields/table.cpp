#include "screen/fields/table.hpp"

#include "screen/draw/parts.hpp"
#include "screen/fields/fields.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <numeric>

namespace platewright::screen {
namespace {
using plot::Box;
using plot::Weight;

constexpr double k_table_row = 26.0;    // height of a line
constexpr double k_head = 38.0;         // of the heads, the unit below the words
constexpr double k_between = 18.0;      // columns
constexpr double k_before = 10.0;       // the first column, and before further lines
constexpr double k_after = 6.0;         // the last column, to the row's end
constexpr double k_doubt_gap = 5.0;     // between a figure and its interval
constexpr double k_most_more = 48.0;    // between two columns, where there is room
constexpr double k_least_first = 180.0; // narrower the first column is not cut beside others

std::string without_capitals(const std::string& words) {
    std::string out = words; // ASCII alone: what else there is keeps its place among bytes
    for (char& letter : out) {
        letter = letter >= 'A' && letter <= 'Z' ? static_cast<char>(letter - 'A' + 'a') : letter;
    }
    return out;
}

/// Less than nothing, nothing or more, as the cells stand in rising order.
int compare(const Cell& a, const Cell& b) {
    if (a.value && b.value) {
        return *a.value < *b.value ? -1 : *a.value > *b.value ? 1 : 0;
    }
    return without_capitals(a.words).compare(without_capitals(b.words));
}

/// What a column needs.
struct ColumnWidth {
    double figures = 0.0; // the widest figure, at whose end the intervals begin
    double width = 0.0;
    bool right = false; // its figures end under each other
};

/// A head's two lines: its words and its unit, or words that are broken.
struct HeadLines {
    std::string upper, lower;
    bool continues = false; // words go on in the lower
};

/// Where everything is: columns after the first in as many lines as they need.
struct Plan {
    std::vector<ColumnWidth> columns;
    std::vector<HeadLines> heads;
    std::vector<Box> places; // in px from the row's left, top and bottom in lines
    double lines = 1.0;
};

/// Broken at the blank that leaves the longer part shortest, where no unit stands below.
HeadLines broken(const ViewContext& context, const TableHead& head) {
    const ImguiCanvas canvas = context.canvas();
    const auto wide = [&](const std::string& words) {
        return canvas.measure(words, k_small * context.look.scale, Weight::bold).width;
    };
    HeadLines best{head.words, head.unit};
    double least = wide(head.words);
    for (std::size_t at = head.words.find(' '); head.unit.empty() && at != std::string::npos;
         at = head.words.find(' ', at + 1)) {
        HeadLines one{head.words.substr(0, at), head.words.substr(at + 1), true};
        if (const double most = std::max(wide(one.upper), wide(one.lower)); most < least) {
            least = most;
            best = std::move(one);
        }
    }
    return best;
}

std::vector<ColumnWidth> measured(const ViewContext& context, std::span<const HeadLines> heads,
                                  std::span<const TableRow> rows) {
    const ImguiCanvas canvas = context.canvas();
    const double scale = context.look.scale;
    const auto wide = [&](const std::string& words, double size, Weight weight) {
        return words.empty() ? 0.0 : canvas.measure(words, size * scale, weight).width;
    };
    std::vector<ColumnWidth> columns(heads.size());
    for (std::size_t c = 0; c < heads.size(); ++c) {
        double doubt = 0.0;
        for (const TableRow& row : rows) {
            const Cell& cell = row.cells[c];
            columns[c].figures =
                std::max(columns[c].figures,
                         wide(cell.words, k_body, c == 0 ? Weight::bold : Weight::regular));
            doubt = std::max(doubt, wide(cell.doubt, k_small, Weight::regular));
            columns[c].right = columns[c].right || cell.value;
        }
        const double head = wide(heads[c].upper, k_small, Weight::bold) + 14.0 * scale;
        const double gap = doubt > 0.0 ? k_doubt_gap * scale : 0.0;
        columns[c].width = std::max(
            {columns[c].figures + gap + doubt, head, wide(heads[c].lower, k_small, Weight::bold)});
    }
    return columns;
}

/// What the first column has beside the others on one line.
double left_to_first(const ViewContext& context, const Plan& plan, double width) {
    const double scale = context.look.scale;
    double first = width - (k_before + k_after) * scale;
    for (std::size_t c = 1; c < plan.columns.size(); ++c) {
        first -= plan.columns[c].width + k_between * scale;
    }
    return first;
}

/// The first column has a line of its own; the others follow in as few as they need, each as wide
/// as what stands in it.
void fold(const ViewContext& context, Plan& plan, double width) {
    const double left = 2.0 * k_before * context.look.scale;
    const double gap = k_between * context.look.scale;
    plan.places.push_back({0.5 * left, 0.0, width, 1.0});
    double x = left, line = 1.0;
    for (std::size_t c = 1; c < plan.columns.size(); ++c) {
        const double own = std::min(plan.columns[c].width, width - left);
        if (x > left && x + own > width) {
            x = left;
            line += 1.0;
        }
        plan.places.push_back({x, line, x + own, line + 1.0});
        x += own + gap;
    }
    plan.lines = line + 1.0;
}

Plan planned(const ViewContext& context, std::span<const TableHead> heads,
             std::span<const TableRow> rows, double width) {
    const double scale = context.look.scale, before = k_before * scale, gap = k_between * scale;
    Plan plan;
    for (const TableHead& head : heads) {
        plan.heads.push_back({head.words, head.unit});
    }
    plan.columns = measured(context, plan.heads, rows);
    const auto first_stands = [&] {
        return left_to_first(context, plan, width) >=
               std::min(plan.columns[0].width, k_least_first * scale);
    };
    if (!first_stands()) { // a head's second line is free where no unit stands in it
        for (std::size_t c = 0; c < heads.size(); ++c) {
            plan.heads[c] = broken(context, heads[c]);
        }
        plan.columns = measured(context, plan.heads, rows);
    }
    if (first_stands()) {
        const double first = left_to_first(context, plan, width);
        // What is left over stands between all columns, and no more than the eye follows: a name
        // half a screen from its figures is read beside another row's.
        const double needed = std::max(plan.columns[0].width, k_least_first * scale);
        const double more = std::clamp((first - needed) / static_cast<double>(heads.size()), 0.0,
                                       k_most_more * scale);
        const double own = std::min(first, needed) + more;
        plan.places.push_back({before, 0.0, before + own, 1.0});
        double x = before + own + gap;
        for (std::size_t c = 1; c < heads.size(); ++c) {
            plan.places.push_back({x, 0.0, x + plan.columns[c].width, 1.0});
            x += plan.columns[c].width + gap + more;
        }
        return plan;
    }
    fold(context, plan, width);
    return plan;
}

Box placed(const Box& place, const Box& row, double line) {
    return {row.left + place.left, row.top + place.top * line, row.left + place.right,
            row.top + place.bottom * line};
}

/// A small roof or bowl after the head that sorts.
void sort_sign(ImguiCanvas& canvas, plot::Point at, bool falls, plot::Colour ink, double scale) {
    const double out = 4.0 * scale, up = (falls ? -1.0 : 1.0) * 2.5 * scale;
    const std::array sign{plot::Point{at.x - out, at.y + up}, plot::Point{at.x, at.y - up},
                          plot::Point{at.x + out, at.y + up}};
    canvas.polyline(sign, {ink, 2.0 * scale, plot::Dash::solid});
}

void draw_heads(const ViewContext& context, const Plan& plan, Sorting& sorting) {
    const double scale = context.look.scale, line_height = k_head * scale;
    const plot::Palette& p = context.palette();
    const plot::Point corner = point(ImGui::GetCursorScreenPos());
    const Box row{corner.x, corner.y,
                  corner.x + static_cast<double>(ImGui::GetContentRegionAvail().x),
                  corner.y + plan.lines * line_height};
    for (std::size_t c = 0; c < plan.heads.size(); ++c) {
        const HeadLines& head = plan.heads[c];
        Box at = placed(plan.places[c], row, line_height);
        ImGui::SetCursorScreenPos(vec({at.left, at.top}));
        ImGui::PushID(static_cast<int>(c));
        const bool pressed =
            ImGui::InvisibleButton("head", {static_cast<float>(std::max(1.0, at.width())),
                                            static_cast<float>(line_height)}) ||
            entered(context);
        ImGui::PopID();
        ImguiCanvas canvas = context.canvas();
        if (ImGui::IsItemHovered()) {
            canvas.box(at, p.accent.faded(0.1), 4.0 * scale);
        }
        if (ImGui::IsItemFocused() && ImGui::GetIO().NavVisible) {
            canvas.frame(at, p.accent, 4.0 * scale, 2.5 * scale);
        }
        const bool sorts = sorting.by == c;
        const plot::Colour ink = sorts ? p.ink : p.faint_ink;
        line(canvas, head.upper, take_top(at, 0.52 * line_height),
             {.colour = ink, .height = k_small * scale, .weight = Weight::bold});
        if (sorts) {
            const double end =
                at.left + canvas.measure(head.upper, k_small * scale, Weight::bold).width;
            sort_sign(canvas, {end + 8.0 * scale, at.top - 0.24 * line_height}, sorting.falls, ink,
                      scale);
        }
        if (!head.lower.empty()) {
            line(canvas, head.lower, at,
                 {.colour = head.continues ? ink : p.faint_ink,
                  .height = k_small * scale,
                  .weight = head.continues ? Weight::bold : Weight::regular});
        }
        if (pressed) {
            const bool again = sorting.by == c;
            if (again && sorting.falls) {
                sorting = {};
            } else {
                sorting = {c, again};
            }
            context.owed = std::max(context.owed, 1);
        }
    }
    ImGui::SetCursorScreenPos(vec({row.left, row.top}));
    ImGui::Dummy({static_cast<float>(row.width()), static_cast<float>(row.height())});
}

void draw_cells(const ViewContext& context, const TableRow& row, const Plan& plan, const Box& box) {
    const double scale = context.look.scale;
    const plot::Palette& p = context.palette();
    ImguiCanvas canvas = context.canvas();
    canvas.box({box.left, box.bottom - scale, box.right, box.bottom}, p.line.faded(0.6), 0.0);
    for (std::size_t c = 0; c < row.cells.size(); ++c) {
        const Cell& cell = row.cells[c];
        const ColumnWidth& column = plan.columns[c];
        Box at = placed(plan.places[c], box, k_table_row * scale);
        Box figures = column.right ? take_left(at, column.figures) : at;
        line(canvas, cell.words, figures,
             {.colour = p.ink,
              .height = k_body * scale,
              .across = column.right ? plot::Across::right : plot::Across::left,
              .weight = c == 0 ? Weight::bold : Weight::regular});
        if (!cell.doubt.empty()) {
            take_left(at, k_doubt_gap * scale);
            at.top += 2.0 * scale; // on the line of the larger figure
            line(canvas, cell.doubt, at, {.colour = p.faint_ink, .height = k_small * scale});
        }
    }
}

} // namespace

std::vector<std::size_t> sorted(std::span<const TableRow> rows, const Sorting& sorting) {
    std::vector<std::size_t> order(rows.size());
    std::iota(order.begin(), order.end(), std::size_t{0});
    if (!sorting.by) {
        return order;
    }
    std::ranges::stable_sort(order, [&](std::size_t i, std::size_t j) {
        const Cell &a = rows[i].cells[*sorting.by], &b = rows[j].cells[*sorting.by];
        const bool figures = std::ranges::any_of(
            rows, [&](const TableRow& row) { return row.cells[*sorting.by].value.has_value(); });
        if (figures && a.value.has_value() != b.value.has_value()) {
            return a.value.has_value(); // what is not known stands last, either way
        }
        const int way = compare(a, b);
        return sorting.falls ? way > 0 : way < 0;
    });
    return order;
}

std::optional<ledger::Id> table(const ViewContext& context, const char* id,
                                std::span<const TableHead> heads, std::span<const TableRow> rows,
                                Sorting& sorting) {
    ImGui::PushID(id);
    // Rows lie on each other, so that many are seen.
    ImGui::PushStyleVar(ImGuiStyleVar_ItemSpacing, {ImGui::GetStyle().ItemSpacing.x, 0.0F});
    const double width = static_cast<double>(ImGui::GetContentRegionAvail().x);
    const Plan plan = planned(context, heads, rows, width);
    draw_heads(context, plan, sorting);
    std::optional<ledger::Id> pressed;
    for (const std::size_t i : sorted(rows, sorting)) {
        const auto [is_pressed, box] = row_ground(context, static_cast<int>(rows[i].id),
                                                  k_table_row * plan.lines, rows[i].chosen);
        if (ImGui::IsRectVisible(vec({box.left, box.top}), vec({box.right, box.bottom}))) {
            draw_cells(context, rows[i], plan, box);
        }
        if (is_pressed) {
            pressed = rows[i].id;
        }
    }
    ImGui::PopStyleVar();
    ImGui::PopID();
    return pressed;
}

} // namespace platewright::screen
