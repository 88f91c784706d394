#include "plate/shape/drawn_lines.hpp"

#include "base/text.hpp"
#include "wording/say.hpp"

#include <algorithm>
#include <array>
#include <cctype>
#include <optional>
#include <string>

namespace platewright::plate {
namespace {

using wording::say;

constexpr int k_steps_a_curve = 16;

/// Reads the commands and numbers of an SVG path one after another.
class PathReader {
public:
    explicit PathReader(std::string_view text) : rest_(text) {}

    bool at_end() {
        skip_blanks();
        return rest_.empty();
    }
    bool at_number() {
        skip_blanks();
        return !rest_.empty() && std::isalpha(static_cast<unsigned char>(rest_.front())) == 0;
    }
    char command() {
        const char c = rest_.front();
        rest_.remove_prefix(1);
        return c;
    }
    // Numbers may follow each other without a blank: "10-5" is two, ".5.5" too.
    std::optional<double> number() {
        skip_blanks();
        std::size_t end = 0;
        bool has_point = false, has_exponent = false;
        while (end < rest_.size()) {
            const char c = rest_[end];
            const bool sign = (c == '+' || c == '-') &&
                              (end == 0 || rest_[end - 1] == 'e' || rest_[end - 1] == 'E');
            const bool point = c == '.' && !has_point && !has_exponent;
            const bool exponent = (c == 'e' || c == 'E') && !has_exponent && end > 0;
            if (std::isdigit(static_cast<unsigned char>(c)) == 0 && !sign && !point && !exponent)
                break;
            has_point = has_point || point;
            has_exponent = has_exponent || exponent;
            ++end;
        }
        const auto value = base::parse_number(rest_.substr(0, end));
        if (value)
            rest_.remove_prefix(end);
        return value;
    }

private:
    void skip_blanks() {
        while (!rest_.empty() && (rest_.front() == ',' ||
                                  std::isspace(static_cast<unsigned char>(rest_.front())) != 0))
            rest_.remove_prefix(1);
    }
    std::string_view rest_;
};

int numbers_of(char command) {
    switch (command) {
    case 'M':
    case 'L':
    case 'T':
        return 2;
    case 'H':
    case 'V':
        return 1;
    case 'S':
    case 'Q':
        return 4;
    case 'C':
        return 6;
    default:
        return 0;
    }
}

/// Follows the pen; each M begins a piece.
class Pen {
public:
    // One command (as a capital) with its numbers; `relative` where it was small.
    void draw(char command, bool relative, std::array<double, 6> v) {
        const Point from = at_;
        const auto x = [&](std::size_t k) { return v[k] + (relative ? from.x_mm : 0.0); };
        const auto y = [&](std::size_t k) { return v[k] + (relative ? from.y_mm : 0.0); };
        if (command == 'M')
            begin({x(0), y(1)});
        else if (is_closed_)
            begin(at_); // goes on from where the piece before began (SVG 1.1, 8.3.3)
        switch (command) {
        case 'L':
            line({x(0), y(1)});
            break;
        case 'H':
            line({x(0), from.y_mm});
            break;
        case 'V':
            line({from.x_mm, y(0)});
            break;
        case 'C':
            cubic({x(0), y(1)}, {x(2), y(3)}, {x(4), y(5)});
            break;
        case 'S':
            cubic(last_ == 'C' ? mirrored() : from, {x(0), y(1)}, {x(2), y(3)});
            break;
        case 'Q':
            quadratic({x(0), y(1)}, {x(2), y(3)});
            break;
        case 'T':
            quadratic(last_ == 'Q' ? mirrored() : from, {x(0), y(1)});
            break;
        default:
            break;
        }
        last_ = command == 'S' ? 'C' : command == 'T' ? 'Q' : command;
    }
    void close() {
        if (!pieces.empty())
            at_ = pieces.back().front();
        is_closed_ = true;
    }
    std::vector<Loop> pieces;

private:
    void begin(Point at) {
        at_ = at;
        pieces.push_back({at});
        is_closed_ = false;
    }
    Point mirrored() const {
        return {2.0 * at_.x_mm - control_.x_mm, 2.0 * at_.y_mm - control_.y_mm};
    }
    void line(Point to) {
        at_ = to;
        pieces.back().push_back(to);
    }
    void cubic(Point a, Point b, Point to) {
        const Point from = at_;
        for (int k = 1; k <= k_steps_a_curve; ++k) {
            const double t = static_cast<double>(k) / k_steps_a_curve, s = 1.0 - t;
            const auto mix = [&](double p, double q, double r, double u) {
                return s * s * s * p + 3.0 * s * s * t * q + 3.0 * s * t * t * r + t * t * t * u;
            };
            pieces.back().push_back(
                {mix(from.x_mm, a.x_mm, b.x_mm, to.x_mm), mix(from.y_mm, a.y_mm, b.y_mm, to.y_mm)});
        }
        control_ = b;
        at_ = to;
    }
    void quadratic(Point control, Point to) {
        const auto third = [](Point end, Point c) {
            return Point{(end.x_mm + 2.0 * c.x_mm) / 3.0, (end.y_mm + 2.0 * c.y_mm) / 3.0};
        };
        cubic(third(at_, control), third(to, control), to);
        control_ = control;
    }
    Point at_{}, control_{};
    char last_ = 'M';
    bool is_closed_ = true;
};

/// Past the end of what begins at `at`; nothing more where it has no end.
std::size_t past(std::string_view text, std::size_t at, std::string_view end) {
    const auto found = text.find(end, at);
    return found == std::string_view::npos ? text.size() : found + end.size();
}

/// The value of an attribute within the inside of a tag (XML 1.0, 3.1: either quotation mark).
std::optional<std::string_view> attribute(std::string_view tag, std::string_view name) {
    for (std::size_t at = 0; at < tag.size();) {
        const auto equals = tag.find('=', at);
        const auto open =
            equals == std::string_view::npos ? equals : tag.find_first_of("\"'", equals);
        if (open == std::string_view::npos)
            return std::nullopt;
        const auto close = tag.find(tag[open], open + 1);
        if (close == std::string_view::npos)
            return std::nullopt;
        if (base::trimmed(tag.substr(at, equals - at)) == name)
            return tag.substr(open + 1, close - open - 1);
        at = close + 1;
    }
    return std::nullopt;
}

/// Past the end of a tag that begins at `at`; a > within quotation marks does not end it.
std::size_t past_tag(std::string_view text, std::size_t at) {
    char quote = 0;
    for (; at < text.size(); ++at) {
        if (quote == 0 && text[at] == '>')
            return at + 1;
        if (quote == 0 && (text[at] == '"' || text[at] == '\''))
            quote = text[at];
        else if (text[at] == quote)
            quote = 0;
    }
    return at;
}

} // namespace

base::Result<std::vector<Loop>> pieces_of_svg_path(std::string_view text) {
    PathReader reader(text);
    Pen pen;
    char command = ' ';
    while (!reader.at_end()) {
        if (!reader.at_number())
            command = reader.command();
        const char capital = static_cast<char>(std::toupper(static_cast<unsigned char>(command)));
        if (capital == 'Z') {
            pen.close();
            command = ' '; // numbers alone can't follow it
            continue;
        }
        const int count = numbers_of(capital);
        if (count == 0)
            return base::Fault{
                say("the command '{}' is not understood (M L H V C S Q T Z are)", command)};
        if (capital != 'M' && pen.pieces.empty())
            return base::Fault{say("it does not begin with M")};
        std::array<double, 6> values{};
        for (int k = 0; k < count; ++k) {
            const auto value = reader.number();
            if (!value)
                return base::Fault{say("a number is missing after '{}'", command)};
            values[static_cast<std::size_t>(k)] = *value;
        }
        pen.draw(capital, command != capital, values);
        if (capital == 'M') // further pairs are lines (SVG 1.1, 8.3.2)
            command = command == 'm' ? 'l' : 'L';
    }
    for (Loop& piece : pen.pieces)
        for (Point& p : piece)
            p.y_mm = -p.y_mm;
    return std::move(pen.pieces);
}

std::vector<std::string_view> paths_of_svg(std::string_view drawing) {
    std::vector<std::string_view> paths;
    for (std::size_t at = drawing.find('<'); at < drawing.size(); at = drawing.find('<', at)) {
        const auto rest = drawing.substr(at);
        if (rest.starts_with("<!--")) {
            at = past(drawing, at, "-->");
        } else if (rest.starts_with("<![CDATA[")) {
            at = past(drawing, at, "]]>");
        } else if (rest.starts_with("<?")) {
            at = past(drawing, at, "?>");
        } else {
            const auto end = past_tag(drawing, at + 1);
            const auto tag = drawing.substr(at, end - at);
            constexpr std::string_view k_path = "<path";
            if (tag.starts_with(k_path) && tag.size() > k_path.size() &&
                std::isspace(static_cast<unsigned char>(tag[k_path.size()])) != 0)
                if (const auto d = attribute(tag.substr(k_path.size()), "d"))
                    paths.push_back(*d);
            at = end;
        }
    }
    return paths;
}

PointTable points_of_csv(std::string_view text) {
    PointTable table;
    bool is_parted = true;
    for (const NumberedLine& line : lines_of(text)) {
        const auto fields = fields_of(line.text);
        const auto x = fields.size() == 2 ? base::parse_measure(fields[0], "mm") : std::nullopt;
        const auto y = fields.size() == 2 ? base::parse_measure(fields[1], "mm") : std::nullopt;
        if (!x || !y) {
            if (!table.pieces.empty())
                table.between.push_back(line);
            is_parted = true;
            continue;
        }
        if (is_parted)
            table.pieces.emplace_back();
        is_parted = false;
        table.pieces.back().push_back({*x, *y});
    }
    return table;
}

} // namespace platewright::plate
