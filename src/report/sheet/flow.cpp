#include "report/sheet/flow.hpp"

#include "report/sheet/flow_measures.hpp"
#include "wording/say.hpp"

#include <algorithm>
#include <cmath>

namespace platewright::report {
namespace {

std::size_t letter_length(std::string_view text, std::size_t at) {
    std::size_t length = 1;
    while (at + length < text.size() &&
           (static_cast<unsigned char>(text[at + length]) & 0xC0U) == 0x80U)
        ++length;
    return length;
}

} // namespace

plot::Size size_of(Paper paper) {
    return paper == Paper::a4 ? plot::Size{595.276, 841.89} : plot::Size{612.0, 792.0};
}

std::vector<std::string> wrapped(const plot::Canvas& canvas, std::string_view words, double width,
                                 double height, plot::Weight weight) {
    const auto fits = [&](const std::string& line) {
        return canvas.measure(line, height, weight).width <= width;
    };
    std::vector<std::string> lines(1);
    std::size_t at = 0;
    while (at < words.size()) {
        if (words[at] == '\n') {
            lines.emplace_back();
            ++at;
            continue;
        }
        const std::size_t end = std::min(words.find_first_of(" \n", at), words.size());
        std::string word(words.substr(at, end - at));
        std::string& line = lines.back();
        const std::string longer = line.empty() ? word : line + " " + word;
        if (fits(longer)) {
            line = longer;
        } else {
            if (!line.empty())
                lines.emplace_back();
            while (!word.empty() && !fits(word)) { // wider than a line: broken where it must be
                std::size_t length = letter_length(word, 0);
                while (length < word.size() &&
                       fits(word.substr(0, length + letter_length(word, length))))
                    length += letter_length(word, length);
                lines.back() = word.substr(0, length);
                lines.emplace_back();
                word.erase(0, length);
            }
            lines.back() = word;
        }
        at = end < words.size() && words[end] == ' ' ? end + 1 : end;
    }
    return lines;
}

Flow::Flow(const std::filesystem::path& path, Paper paper, std::string running)
    : canvas_(path, PictureKind::pdf, size_of(paper)), inside_{k_margin, k_margin,
                                                               size_of(paper).width - k_margin,
                                                               size_of(paper).height - k_margin -
                                                                   14.0},
      running_(std::move(running)), y_(inside_.top) {}

double Flow::room() const { return inside_.bottom - y_; }

void Flow::foot() {
    const double y = inside_.bottom + 12.0;
    rule(y - 5.0, 0.4, ink().faint_ink);
    canvas_.text({inside_.left, y}, running_,
                 {.colour = ink().faint_ink, .height = 6.8, .upright = plot::Upright::top});
    canvas_.text({inside_.right, y}, wording::say("page {}", page_),
                 {.colour = ink().faint_ink,
                  .height = 6.8,
                  .across = plot::Across::right,
                  .upright = plot::Upright::top});
}

void Flow::rule(double y, double width, plot::Colour colour) {
    const std::vector<plot::Point> line{{inside_.left, y}, {inside_.right, y}};
    canvas_.polyline(line, {.colour = colour, .width = width});
}

void Flow::next_page() {
    if (y_ <= inside_.top)
        return;
    foot();
    canvas_.next_page();
    ++page_;
    y_ = inside_.top;
}

void Flow::make_room(double height) {
    if (height > room())
        next_page();
}

void Flow::title(std::string_view left, std::string_view right) {
    constexpr double height = 17.0;
    const double width = canvas_.measure(right, k_text, plot::Weight::regular).width + 12.0;
    canvas_.text({inside_.right, y_ + 5.0}, right,
                 {.colour = ink().faint_ink,
                  .height = k_text,
                  .across = plot::Across::right,
                  .upright = plot::Upright::top});
    for (const std::string& line :
         wrapped(canvas_, left, inside_.width() - width, height, plot::Weight::bold)) {
        canvas_.text({inside_.left, y_}, line,
                     {.colour = ink().ink,
                      .height = height,
                      .upright = plot::Upright::top,
                      .weight = plot::Weight::bold});
        y_ += 1.25 * height;
    }
    rule(y_ + 1.0, 1.2, ink().ink);
    y_ += k_gap + 1.0;
}

void Flow::heading(std::string_view words, double below) {
    constexpr double height = 10.2, leading = 15.0;
    const auto lines = wrapped(canvas_, words, inside_.width(), height, plot::Weight::bold);
    make_room(leading * static_cast<double>(lines.size()) + 0.4 * k_gap + below);
    if (y_ > inside_.top)
        y_ += 0.4 * k_gap;
    for (const std::string& line : lines) {
        canvas_.text({inside_.left, y_}, line,
                     {.colour = ink().ink,
                      .height = height,
                      .upright = plot::Upright::top,
                      .weight = plot::Weight::bold});
        y_ += leading;
    }
}

void Flow::paragraph(std::string_view words, bool faint) {
    for (const std::string& line : wrapped(canvas_, words, inside_.width(), k_text)) {
        make_room(k_leading);
        canvas_.text({inside_.left, y_}, line,
                     {.colour = faint ? ink().faint_ink : ink().ink,
                      .height = k_text,
                      .upright = plot::Upright::top});
        y_ += k_leading;
    }
    y_ += 0.3 * k_gap;
}

double Flow::facts_in(const plot::Box& box,
                      const std::vector<std::pair<std::string, std::string>>& facts, bool draw) {
    const double label = k_label_share * box.width();
    double y = box.top;
    for (const auto& [name, value] : facts) {
        const auto names = wrapped(canvas_, name, label - 0.5 * k_column_gap, k_text);
        const auto lines = wrapped(canvas_, value, box.width() - label, k_text);
        const auto column = [&](double left, const Lines& words, plot::Colour colour) {
            double at = y;
            for (const std::string& line : words) {
                if (draw)
                    canvas_.text(
                        {left, at}, line,
                        {.colour = colour, .height = k_text, .upright = plot::Upright::top});
                at += k_leading;
            }
            return at;
        };
        const double below_name = column(box.left, names, ink().faint_ink);
        y = std::max(below_name, column(box.left + label, lines, ink().ink));
    }
    return y;
}

void Flow::facts(const std::vector<std::pair<std::string, std::string>>& facts) {
    const double middle = 0.5 * (inside_.left + inside_.right);
    const auto half = facts.begin() + static_cast<std::ptrdiff_t>((facts.size() + 1) / 2);
    const std::vector<std::pair<std::string, std::string>> first(facts.begin(), half),
        second(half, facts.end());
    const auto both = [&](bool draw) {
        return std::max(
            facts_in({inside_.left, y_, middle - k_gap, inside_.bottom}, first, draw),
            facts_in({middle + k_gap, y_, inside_.right, inside_.bottom}, second, draw));
    };
    make_room(both(false) - y_);
    y_ = both(true) + 0.5 * k_gap;
}

void Flow::figures(double height, const std::vector<Figure>& beside) {
    make_room(height);
    double left = inside_.left;
    for (const Figure& figure : beside) {
        const double width = figure.share * inside_.width();
        figure.draw({left, y_, left + width - (figure.share < 1.0 ? k_gap : 0.0), y_ + height},
                    canvas_);
        left += width;
    }
    y_ += height + k_gap;
}

void Flow::beside(double height, const Figure& figure,
                  const std::vector<std::pair<std::string, std::string>>& facts) {
    make_room(height);
    const double edge = inside_.left + figure.share * inside_.width();
    figure.draw({inside_.left, y_, edge - k_gap, y_ + height}, canvas_);
    const double below = facts_in({edge + k_gap, y_, inside_.right, y_ + height}, facts, true);
    y_ = std::max(below, y_ + height) + k_gap;
}

void Flow::lines_to_write(std::size_t least, std::size_t most) {
    constexpr double k_hand = 22.0; // from line to line: a hand's writing
    make_room(static_cast<double>(least) * k_hand);
    const auto fits = static_cast<std::size_t>(std::max(0.0, room() / k_hand));
    for (std::size_t i = 0; i < std::min(most, fits); ++i) {
        y_ += k_hand;
        rule(y_ - 2.0, 0.4, ink().faint_ink);
    }
}

double Flow::filled() const { return (y_ - inside_.top) / inside_.height(); }

int lay_out(const std::filesystem::path& path, Paper paper, const std::string& running,
            const std::function<void(Flow&, double)>& set) {
    constexpr double k_worth_a_page = 0.25;
    double best = 1.0, least_waste = 1.0;
    for (const double scale : {1.0, 0.92, 0.84, 0.76}) {
        Flow flow(path, paper, running); // thrown away: it was only to see
        set(flow, scale);
        const double waste =
            flow.pages() == 1 ? 0.0 : std::max(0.0, k_worth_a_page - flow.filled());
        if (waste < least_waste) {
            least_waste = waste;
            best = scale;
        }
        if (waste == 0.0)
            break;
    }
    Flow flow(path, paper, running);
    set(flow, best);
    flow.finish();
    return flow.pages();
}

void Flow::finish() {
    foot();
    canvas_.finish();
}

} // namespace platewright::report
