#pragma once
#include "plot/palette.hpp"
#include "report/sheet/cairo_canvas.hpp"

#include <functional>
#include <string>
#include <string_view>
#include <vector>

namespace platewright::report {

enum class Paper { a4, letter };
plot::Size size_of(Paper paper); ///< in points, upright

/// The words in lines no wider than `width`; a word that is wider by itself is broken. Never empty.
std::vector<std::string> wrapped(const plot::Canvas& canvas, std::string_view words, double width,
                                 double height, plot::Weight weight = plot::Weight::regular);

/// A table to be set. Columns are as wide as their shares say, but wide enough for their longest
/// word, and for each figure in one piece, as long as the page is; cells wrap within their column.
struct FlowTable {
    struct Column {
        std::string head;
        double share = 1.0;   ///< of the width, relative to the others
        bool figures = false; ///< set to the right
    };
    std::vector<Column> columns;
    std::vector<std::vector<std::string>> rows;
};

class Flow;

/// Lays a sheet out, with its figures smaller step by step where its last page would hold but a few
/// lines, and writes the best. `set` puts all into the flow, figures at `scale` of their height.
/// Returns the pages. Fails: base::Failure, as CairoCanvas.
int lay_out(const std::filesystem::path& path, Paper paper, const std::string& running,
            const std::function<void(Flow& flow, double scale)>& set);

/// Text, tables and figures one under the other on pages with margins; what does not fit goes to a
/// next page, which a table begins with its head again. Fails: base::Failure, as CairoCanvas.
class Flow {
public:
    /// `running`: repeated at the foot of each page, before its number.
    Flow(const std::filesystem::path& path, Paper paper, std::string running);

    void title(std::string_view left, std::string_view right);
    /// Stands on the same page as the `below` points that follow it.
    void heading(std::string_view words, double below = 62.0);
    void paragraph(std::string_view words, bool faint = false);
    /// Labels and what they stand for, in two columns; long ones wrap.
    void facts(const std::vector<std::pair<std::string, std::string>>& facts);
    void table(const FlowTable& table);
    /// A figure over the whole width, or over a share of it from `from` on; figures that are to
    /// stand beside each other are given together.
    struct Figure {
        double share = 1.0;
        std::function<void(const plot::Box&, plot::Canvas&)> draw;
    };
    void figures(double height, const std::vector<Figure>& beside);
    /// Words over one part of the width and a figure over the other, side by side.
    void beside(double height, const Figure& figure,
                const std::vector<std::pair<std::string, std::string>>& facts);
    /// A page of its own begins, unless one has just begun.
    void next_page();
    /// Lines to write on by hand: as many as the page has room for, not fewer than `least` (then on
    /// a page of their own) and not more than `most`.
    void lines_to_write(std::size_t least, std::size_t most);
    void finish();
    int pages() const { return page_; }
    /// How much of the page is used, 0 to 1.
    double filled() const;
    /// What is left of the page, in points.
    double room() const;

private:
    void make_room(double height);
    void foot();
    double facts_in(const plot::Box& box,
                    const std::vector<std::pair<std::string, std::string>>& facts, bool draw);
    void rule(double y, double width, plot::Colour colour);
    using Lines = std::vector<std::string>;
    struct SetTable { // with its columns' widths in points
        const FlowTable& table;
        std::vector<double> widths;
    };
    std::vector<double> widths_of(const FlowTable& table) const;
    std::vector<Lines> wrap_row(const SetTable& set, const std::vector<std::string>& cells,
                                plot::Weight weight) const;
    void row(const SetTable& set, const std::vector<Lines>& cells, std::size_t from,
             std::size_t count, plot::Weight weight);
    void head(const SetTable& set);

    CairoCanvas canvas_;
    plot::Box inside_;
    std::string running_;
    double y_ = 0.0;
    int page_ = 1;
};

} // namespace platewright::report
