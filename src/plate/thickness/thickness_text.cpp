// Caliper tables as makers type them, into readings.
#include "base/text.hpp"
#include "plate/shape/spots.hpp"
#include "plate/thickness/table_text.hpp"
#include "plate/thickness/thickness.hpp"
#include "wording/say.hpp"

#include <algorithm>
#include <array>
#include <cctype>
#include <cmath>
#include <iterator>
#include <string>

namespace platewright::plate {
namespace {

using wording::say;
using Readings = std::vector<ThicknessReading>;

struct Row {
    NumberedLine line;
    std::vector<std::string_view> fields;
};

std::optional<double> millimetres(std::string_view field) {
    return base::parse_measure(field, "mm");
}

base::Fault neither(const Row& row) {
    return {
        say("Line {} (\"{}\") is neither \"x, y, thickness\" nor \"place, thickness\". Nothing was "
            "stored.",
            row.line.number, as_quoted(row.line.text))};
}

/// What a column is, by its head in one of the languages.
enum class Meaning { unknown, place, x, y, thickness };
struct Head {
    Meaning meaning = Meaning::unknown;
    double mm = 1.0; ///< a unit of it
    bool is_inches = false;
};

Head head_of(std::string_view field) {
    constexpr std::array<std::pair<std::string_view, Meaning>, 17> k_words{
        {{"x", Meaning::x},
         {"y", Meaning::y},
         {"place", Meaning::place},
         {"spot", Meaning::place},
         {"ort", Meaning::place},
         {"stelle", Meaning::place},
         {"posto", Meaning::place},
         {"punto", Meaning::place},
         {"posizione", Meaning::place},
         {"thickness", Meaning::thickness},
         {"stärke", Meaning::thickness},
         {"staerke", Meaning::thickness},
         {"dicke", Meaning::thickness},
         {"spessore", Meaning::thickness},
         {"reading", Meaning::thickness},
         {"messwert", Meaning::thickness},
         {"misura", Meaning::thickness}}};
    std::string text;
    for (const char c : field)
        text += static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
    Head head;
    std::string word;
    bool ends_with_in = false;
    const auto take = [&] {
        for (const auto& [known, meaning] : k_words)
            if (word == known)
                head.meaning = meaning;
        head.mm = word == "cm"                                       ? 10.0
                  : word == "1/10" || word == "0.1" || word == "0,1" ? 0.1
                                                                     : head.mm;
        head.is_inches = head.is_inches || word == "inch" || word == "inches" || word == "zoll" ||
                         word == "pollici";
        ends_with_in = word.empty() ? ends_with_in : word == "in";
        word.clear();
    };
    for (const char c : text + " ") {
        if (c == ' ' || c == '(' || c == ')' || c == '[' || c == ']')
            take();
        else
            word += c;
    }
    if (head.meaning == Meaning::unknown && base::trimmed(text) == "mm")
        head.meaning = Meaning::thickness;           // a column of nothing but its unit
    head.is_inches = head.is_inches || ends_with_in; // "in mm", "in der Werkstatt" are none
    return head;
}

bool begins_a_reading(const Row& row, const Outline& outline) {
    return std::ranges::any_of(row.fields, [&](std::string_view field) {
        return millimetres(field) || named_place(outline, field);
    });
}

/// A list of readings, a line each; its columns by their heads, else by what stands in them.
class List {
public:
    List(std::span<const Row> heads, std::span<const Row> rows, const Outline& outline)
        : rows_(rows), outline_(outline) {
        for (const Row& row : heads) {
            std::vector<Head> told;
            std::ranges::transform(row.fields, std::back_inserter(told), head_of);
            const bool is_of_columns = // else a title, in which an "in" is no unit
                std::ranges::count(told, Meaning::unknown, &Head::meaning) < std::ssize(told);
            heads_.resize(std::max(heads_.size(), told.size()));
            for (std::size_t k = 0; k < told.size(); ++k) {
                const Head& head = told[k];
                if (head.meaning != Meaning::unknown)
                    heads_[k].meaning = head.meaning;
                if (head.mm != 1.0)
                    heads_[k].mm = head.mm;
                heads_[k].is_inches = heads_[k].is_inches || (is_of_columns && head.is_inches);
            }
        }
        is_numbered_ = counts_up();
    }

    base::Result<Readings> read() const {
        if (std::ranges::any_of(heads_, &Head::is_inches))
            return base::Fault{
                say("The table is in inches: convert it to mm. Nothing was stored.")};
        Readings readings;
        for (const Row& row : rows_) {
            auto reading = by_content(row);
            if (has(Meaning::thickness) && (has(Meaning::place) || has(Meaning::x)))
                if (auto told = by_heads(row); told || !reading)
                    reading = std::move(told);
            if (!reading)
                return reading.fault();
            readings.push_back(*reading);
        }
        return readings;
    }

private:
    bool has(Meaning meaning) const {
        return std::ranges::count(heads_, meaning, &Head::meaning) > 0;
    }

    /// Whether every line begins with a larger number than the one before; one struck out lacks.
    bool counts_up() const {
        double before = 0.0;
        for (std::size_t i = 0; i < rows_.size(); ++i) {
            const auto number = base::parse_number(rows_[i].fields.front());
            if (!number || *number != std::floor(*number) || (i > 0 && *number <= before))
                return false;
            before = *number;
        }
        return rows_.size() > 1;
    }

    base::Result<ThicknessReading> placed(const Row& row, std::string_view place, double mm) const {
        const auto at = named_place(outline_, place);
        if (!at)
            return base::Fault{
                say("Line {} (\"{}\"): no place is called \"{}\". Nothing was stored.",
                    row.line.number, as_quoted(row.line.text), place)};
        return ThicknessReading{*at, mm, std::string(place)};
    }

    base::Result<ThicknessReading> by_heads(const Row& row) const {
        ThicknessReading reading;
        std::string_view place;
        std::optional<double> x, y, thickness;
        for (std::size_t k = 0; k < std::min(heads_.size(), row.fields.size()); ++k) {
            const auto number = millimetres(row.fields[k]);
            const auto value = number ? std::optional(*number * heads_[k].mm) : std::nullopt;
            switch (heads_[k].meaning) {
            case Meaning::place:
                place = row.fields[k];
                break;
            case Meaning::x:
                x = value;
                break;
            case Meaning::y:
                y = value;
                break;
            case Meaning::thickness:
                thickness = value;
                break;
            case Meaning::unknown:
                break;
            }
        }
        if (!thickness || (!has(Meaning::place) && !(x && y)))
            return neither(row);
        if (x && y)
            return ThicknessReading{{*x, *y}, *thickness, std::string(place)};
        return placed(row, place, *thickness);
    }

    /// A number before, and words behind, may stand there or not.
    base::Result<ThicknessReading> by_content(const Row& row) const {
        const auto& fields = row.fields;
        std::vector<double> numbers;
        while (numbers.size() < fields.size()) {
            const auto number = millimetres(fields[numbers.size()]);
            if (!number)
                break;
            numbers.push_back(*number);
        }
        const std::size_t place = numbers.size();
        const auto behind =
            place + 1 < fields.size() ? millimetres(fields[place + 1]) : std::nullopt;
        if (place <= 1 && behind) { // a number and a place, or a place alone
            if (place == 1 && !is_numbered_)
                return base::Fault{
                    say("Line {} (\"{}\"): x and y must be numbers in mm. Nothing was stored.",
                        row.line.number, as_quoted(row.line.text))};
            return has_numbers(fields, place + 2)
                       ? base::Result<ThicknessReading>(neither(row))
                       : placed(row, fields[place], *behind * unit(place + 1));
        }
        const std::size_t first = numbers.size() == 4 && is_numbered_ ? 1 : 0;
        if (numbers.size() != first + 3 || has_numbers(fields, numbers.size()))
            return neither(row);
        return ThicknessReading{
            {numbers[first] * unit(first), numbers[first + 1] * unit(first + 1)},
            numbers[first + 2] * unit(first + 2),
            {}};
    }

    double unit(std::size_t column) const {
        return column < heads_.size() ? heads_[column].mm : 1.0;
    }

    static bool has_numbers(const std::vector<std::string_view>& fields, std::size_t from) {
        return std::any_of(
            fields.begin() + static_cast<std::ptrdiff_t>(std::min(from, fields.size())),
            fields.end(), [](std::string_view f) { return millimetres(f).has_value(); });
    }

    std::span<const Row> rows_;
    const Outline& outline_;
    std::vector<Head> heads_;
    bool is_numbered_ = false;
};

/// How many fields of a row there are up to the last that is not empty.
std::size_t used(const Row& row) {
    std::size_t count = row.fields.size();
    while (count > 0 && row.fields[count - 1].empty())
        --count;
    return count;
}

/// Numbers of a row from one field on; empty where one is none, or they don't go all one way.
std::vector<double> steps_from(const Row& row, std::size_t first) {
    std::vector<double> steps;
    for (std::size_t k = first; k < used(row); ++k) {
        const auto number = millimetres(row.fields[k]);
        if (!number)
            return {};
        steps.push_back(*number);
    }
    const bool rises =
        std::ranges::adjacent_find(steps, std::ranges::greater_equal{}) == steps.end();
    const bool falls = std::ranges::adjacent_find(steps, std::ranges::less_equal{}) == steps.end();
    return steps.size() >= 2 && (rises || falls) ? steps : std::vector<double>{};
}

/// The places along the first line of a grid whose other lines each begin with theirs; empty where
/// it is no grid. Blank cells at a line's end may stand there or not.
std::vector<double> grid_head(std::span<const Row> rows) {
    if (rows.size() < 3)
        return {};
    const bool has_corner = !millimetres(rows.front().fields.front());
    const auto steps = steps_from(rows.front(), has_corner ? 1 : 0);
    const bool fits = !steps.empty() && std::ranges::all_of(rows.subspan(1), [&](const Row& row) {
        return used(row) <= steps.size() + 1 && millimetres(row.fields.front()).has_value();
    });
    // Without a corner the first line might be a reading of a list: then no line is so long.
    const bool is_wide = has_corner || std::ranges::any_of(rows.subspan(1), [&](const Row& row) {
                             return row.fields.size() == steps.size() + 1;
                         });
    return fits && is_wide ? steps : std::vector<double>{};
}

/// x along the first line and y down the first column, or the other way round where the plate is
/// not that wide. Nothing, or a dash, is no reading.
base::Result<Readings> read_grid(std::span<const Row> rows, const std::vector<double>& head,
                                 const Outline& outline) {
    const double half_mm = 0.5 * outline.size.lower_mm + 5.0;
    const bool turned =
        std::ranges::any_of(head, [&](double step) { return std::abs(step) > half_mm; });
    Readings readings;
    for (const Row& row : rows.subspan(1)) {
        const double own = *millimetres(row.fields.front());
        for (std::size_t k = 0; k < head.size() && k + 1 < row.fields.size(); ++k) {
            const std::string_view cell = row.fields[k + 1];
            if (cell.empty() || cell == "-" || cell == "\u2013")
                continue;
            const auto mm = millimetres(cell);
            if (!mm)
                return neither(row);
            readings.push_back({turned ? Point{own, head[k]} : Point{head[k], own}, *mm, {}});
        }
    }
    return readings;
}

base::Result<Readings> read_rows(std::span<const Row> rows, const Outline& outline) {
    for (std::size_t first = 0; first < std::min(rows.size(), k_most_headlines); ++first)
        if (const auto head = grid_head(rows.subspan(first)); !head.empty())
            return read_grid(rows.subspan(first), head, outline);
    std::size_t heads = 0;
    while (heads < std::min(rows.size(), k_most_headlines) &&
           !begins_a_reading(rows[heads], outline))
        ++heads;
    return List(rows.first(heads), rows.subspan(heads), outline).read();
}

} // namespace

base::Result<std::vector<ThicknessReading>> thickness_from_csv(std::string_view text,
                                                               const Outline& outline) {
    std::vector<Row> rows;
    for (const NumberedLine& line : lines_of(text))
        rows.push_back({line, fields_of(line.text)});
    auto readings = read_rows(rows, outline);
    if (readings)
        if (const auto fault = fault_in(*readings, outline))
            return *fault;
    return readings;
}

} // namespace platewright::plate
