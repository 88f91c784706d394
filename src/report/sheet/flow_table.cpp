// The part of Flow that sets tables.
#include "report/sheet/flow.hpp"
#include "report/sheet/flow_measures.hpp"

#include <algorithm>
#include <numeric>

namespace platewright::report {
namespace {

/// Widths by their shares, where none is narrower than its need; all are scaled down where even the
/// needs have no room.
std::vector<double> with_needs(const FlowTable& table, const std::vector<double>& needs,
                               double room) {
    const double needed = std::accumulate(needs.begin(), needs.end(), 0.0);
    std::vector<double> widths(needs.size(), 0.0);
    std::vector<bool> is_set(needs.size(), false);
    if (needed > room) {
        for (std::size_t i = 0; i < needs.size(); ++i)
            widths[i] = room * needs[i] / needed;
        return widths;
    }
    for (bool changed = true; changed;) { // a column set to its need leaves the others less
        changed = false;
        double left = room, shares = 0.0;
        for (std::size_t i = 0; i < needs.size(); ++i)
            is_set[i] ? left -= widths[i] : shares += table.columns[i].share;
        for (std::size_t i = 0; i < needs.size(); ++i) {
            if (is_set[i])
                continue;
            widths[i] = left * table.columns[i].share / shares;
            if (widths[i] < needs[i]) {
                widths[i] = needs[i];
                is_set[i] = changed = true;
            }
        }
    }
    return widths;
}

std::vector<std::string_view> words_of(std::string_view text) {
    std::vector<std::string_view> words;
    while (!text.empty()) {
        const auto end = std::min(text.find_first_of(" \n"), text.size());
        words.push_back(text.substr(0, end));
        text.remove_prefix(std::min(end + 1, text.size()));
    }
    return words;
}

std::size_t longest(const std::vector<std::vector<std::string>>& cells) {
    std::size_t most = 1;
    for (const auto& lines : cells)
        most = std::max(most, lines.size());
    return most;
}

} // namespace

/// What each column needs so that no word is broken: figures whole, a very long word as far as a
/// third of the page goes.
std::vector<double> Flow::widths_of(const FlowTable& table) const {
    const double most = inside_.width() / 3.0;
    const auto width_of = [&](std::string_view words, plot::Weight weight) {
        return canvas_.measure(words, k_text, weight).width + k_column_gap + 0.1;
    };
    std::vector<double> needs, words_alone;
    for (std::size_t i = 0; i < table.columns.size(); ++i) {
        const FlowTable::Column& column = table.columns[i];
        double word = 0.0, whole = 0.0;
        for (const std::string_view part : words_of(column.head))
            word = std::max(word, width_of(part, plot::Weight::bold));
        for (const auto& row : table.rows) {
            for (const std::string_view part : words_of(row[i]))
                word = std::max(word, std::min(most, width_of(part, plot::Weight::regular)));
            if (column.figures)
                whole = std::max(whole, std::min(most, width_of(row[i], plot::Weight::regular)));
        }
        words_alone.push_back(word);
        needs.push_back(std::max(word, whole));
    }
    const double needed = std::accumulate(needs.begin(), needs.end(), 0.0);
    return with_needs(table, needed > inside_.width() ? words_alone : needs, inside_.width());
}

std::vector<Flow::Lines> Flow::wrap_row(const SetTable& set, const std::vector<std::string>& cells,
                                        plot::Weight weight) const {
    std::vector<Lines> lines;
    for (std::size_t i = 0; i < cells.size(); ++i)
        lines.push_back(wrapped(canvas_, cells[i], set.widths[i] - k_column_gap, k_text, weight));
    return lines;
}

/// Lines of a row from one on, as many as are given.
void Flow::row(const SetTable& set, const std::vector<Lines>& cells, std::size_t from,
               std::size_t count, plot::Weight weight) {
    double left = inside_.left;
    for (std::size_t i = 0; i < cells.size(); ++i) {
        const FlowTable::Column& column = set.table.columns[i];
        const double width = set.widths[i];
        double y = y_;
        for (std::size_t line = from; line < std::min(cells[i].size(), from + count); ++line) {
            canvas_.text({column.figures ? left + width - k_column_gap : left, y}, cells[i][line],
                         {.colour = ink().ink,
                          .height = k_text,
                          .across = column.figures ? plot::Across::right : plot::Across::left,
                          .upright = plot::Upright::top,
                          .weight = weight});
            y += k_leading;
        }
        left += width;
    }
    y_ += static_cast<double>(count) * k_leading;
}

void Flow::head(const SetTable& set) {
    std::vector<std::string> words;
    for (const auto& column : set.table.columns)
        words.push_back(column.head);
    const auto lines = wrap_row(set, words, plot::Weight::bold);
    row(set, lines, 0, longest(lines), plot::Weight::bold);
    y_ += 1.0;
    rule(y_, 0.6, ink().ink);
    y_ += 3.0;
}

void Flow::table(const FlowTable& table) {
    constexpr double k_row_gap = 2.6;
    const SetTable set{table, widths_of(table)};
    make_room(5.0 * k_leading); // the head does not stand alone
    head(set);
    for (const auto& cells : table.rows) {
        const auto lines = wrap_row(set, cells, plot::Weight::regular);
        const std::size_t count = longest(lines);
        const double height = static_cast<double>(count) * k_leading + k_row_gap;
        if (height > room() && height < 0.5 * inside_.height()) {
            next_page();
            head(set);
        }
        for (std::size_t done = 0;
             done < count;) { // a row longer than the page goes on, on the next
            const auto fits =
                static_cast<std::size_t>(std::max(0.0, (room() - k_row_gap) / k_leading));
            const std::size_t now = std::min(count - done, fits);
            if (now > 0)
                row(set, lines, done, now, plot::Weight::regular);
            done += now;
            if (done < count) {
                next_page();
                head(set);
            }
        }
        y_ += k_row_gap;
        rule(y_ - 1.4, 0.3, ink().line);
    }
    y_ += k_gap;
}

} // namespace platewright::report
