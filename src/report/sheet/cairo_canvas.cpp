#include "report/sheet/cairo_canvas.hpp"

#include "base/failure.hpp"

#include <cairo-pdf.h>
#include <cairo-svg.h>
#include <cairo.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <pango/pangocairo.h>
#include <stdexcept>
#include <string>

namespace platewright::report {
using plot::Point;

struct CairoCanvas::Page {
    std::filesystem::path path;
    std::filesystem::path beside; // where the page is made until it is whole
    PictureKind kind;
    plot::Size size;
    cairo_surface_t* surface = nullptr;
    cairo_t* pen = nullptr;
    PangoLayout* line = nullptr;
    double ascent = 0.0, descent = 0.0; // of the line that was set last

    Page(std::filesystem::path path_in, PictureKind kind_in, plot::Size size_in)
        : path(std::move(path_in)), beside(path), kind(kind_in), size(size_in) {
        beside += ".part";
        const std::string name = beside.string();
        switch (kind) {
        case PictureKind::png:
            surface = cairo_image_surface_create(CAIRO_FORMAT_RGB24,
                                                 static_cast<int>(std::lround(size.width)),
                                                 static_cast<int>(std::lround(size.height)));
            break;
        case PictureKind::svg:
            surface = cairo_svg_surface_create(name.c_str(), size.width, size.height);
            break;
        case PictureKind::pdf:
            surface = cairo_pdf_surface_create(name.c_str(), size.width, size.height);
            break;
        }
        pen = cairo_create(surface);
        line = pango_cairo_create_layout(pen);
        pango_layout_set_single_paragraph_mode(line, TRUE);
        pango_context_set_round_glyph_positions(pango_layout_get_context(line), FALSE);
    }
    Page(const Page&) = delete;
    Page& operator=(const Page&) = delete;
    ~Page() {
        close();
        std::error_code ignored; // a page that was finished has been renamed away already
        std::filesystem::remove(beside, ignored);
    }

    void close() {
        if (pen != nullptr) {
            g_object_unref(line);
            cairo_destroy(pen);
            cairo_surface_destroy(surface);
            pen = nullptr;
            surface = nullptr;
        }
    }
    void check(cairo_status_t status) const {
        if (status != CAIRO_STATUS_SUCCESS) {
            throw base::Failure("The file " + path.string() +
                                    " could not be written. Check the folder and the free space; "
                                    "the ledger is not touched.",
                                cairo_status_to_string(status));
        }
    }
    void use(plot::Colour c) const {
        cairo_set_source_rgba(pen, c.red / 255.0, c.green / 255.0, c.blue / 255.0,
                              c.opacity / 255.0);
    }
    /// One line, set by Pango: a letter that Lato lacks comes from a font that has it.
    plot::Size set(std::string_view words, double height, plot::Weight weight) {
        PangoFontDescription* const font = pango_font_description_from_string("Lato, sans-serif");
        pango_font_description_set_absolute_size(font, height * PANGO_SCALE);
        pango_font_description_set_weight(font, weight == plot::Weight::bold ? PANGO_WEIGHT_BOLD
                                                                             : PANGO_WEIGHT_NORMAL);
        pango_layout_set_font_description(line, font);
        char* const valid = g_utf8_make_valid(words.data(), static_cast<gssize>(words.size()));
        pango_layout_set_text(line, valid, -1);
        g_free(valid);
        PangoFontMetrics* const metrics =
            pango_context_get_metrics(pango_layout_get_context(line), font, nullptr);
        ascent = pango_units_to_double(pango_font_metrics_get_ascent(metrics));
        descent = pango_units_to_double(pango_font_metrics_get_descent(metrics));
        pango_font_metrics_unref(metrics);
        pango_font_description_free(font);
        PangoRectangle extents{};
        pango_layout_get_extents(line, nullptr, &extents);
        return {pango_units_to_double(extents.width), ascent + descent};
    }
    void trace(std::span<const Point> points) const {
        cairo_new_path(pen);
        for (const Point p : points) {
            cairo_line_to(pen, p.x, p.y); // the first one after a new path moves there
        }
    }
};

CairoCanvas::CairoCanvas(std::filesystem::path path, PictureKind kind, plot::Size size) {
    if (!(size.width >= 1.0 && size.height >= 1.0 && size.width <= 32767.0 &&
          size.height <= 32767.0)) {
        throw std::invalid_argument("CairoCanvas: a page measures 1 to 32767 units each way");
    }
    page_ = std::make_unique<Page>(std::move(path), kind, size);
    page_->check(cairo_surface_status(page_->surface));
    page_->check(cairo_status(page_->pen));
}

CairoCanvas::~CairoCanvas() = default;

void CairoCanvas::polyline(std::span<const Point> points, const plot::Pen& pen) {
    if (points.size() < 2) {
        return;
    }
    page_->trace(points);
    page_->use(pen.colour);
    cairo_t* const to = page_->pen;
    cairo_set_line_width(to, pen.width);
    cairo_set_line_join(to, CAIRO_LINE_JOIN_ROUND);
    const std::array<double, 2> dashes{4.0 + 2.0 * pen.width, 3.0 + pen.width};
    const std::array<double, 2> dots{pen.width, 2.0 + 1.5 * pen.width};
    const auto& pattern = pen.dash == plot::Dash::dashed ? dashes : dots;
    cairo_set_dash(to, pattern.data(), pen.dash == plot::Dash::solid ? 0 : 2, 0.0);
    cairo_stroke(to);
}

void CairoCanvas::ribbon(std::span<const Point> upper, std::span<const Point> lower,
                         plot::Colour colour) {
    if (upper.size() != lower.size()) {
        throw std::invalid_argument("ribbon: both edges have as many points");
    }
    page_->trace(upper);
    for (std::size_t i = lower.size(); i-- > 0;) {
        cairo_line_to(page_->pen, lower[i].x, lower[i].y);
    }
    cairo_close_path(page_->pen);
    page_->use(colour);
    cairo_fill(page_->pen);
}

// One path of all pieces: their shared sides cancel, so that nothing shows between them.
void CairoCanvas::area(std::span<const std::vector<Point>> pieces, plot::Colour colour) {
    cairo_new_path(page_->pen);
    for (const std::vector<Point>& piece : pieces) {
        cairo_new_sub_path(page_->pen);
        for (const Point p : piece) {
            cairo_line_to(page_->pen, p.x, p.y);
        }
        cairo_close_path(page_->pen);
    }
    page_->use(colour);
    cairo_fill(page_->pen);
}

void CairoCanvas::box(const plot::Box& box, plot::Colour colour, double corner_radius) {
    cairo_t* const to = page_->pen;
    const double r = std::min({corner_radius, 0.5 * box.width(), 0.5 * box.height()});
    const double quarter = std::numbers::pi / 2.0;
    cairo_new_path(to);
    cairo_arc(to, box.right - r, box.top + r, r, -quarter, 0.0);
    cairo_arc(to, box.right - r, box.bottom - r, r, 0.0, quarter);
    cairo_arc(to, box.left + r, box.bottom - r, r, quarter, 2.0 * quarter);
    cairo_arc(to, box.left + r, box.top + r, r, 2.0 * quarter, 3.0 * quarter);
    cairo_close_path(to);
    page_->use(colour);
    cairo_fill(to);
}

void CairoCanvas::mark(Point centre, plot::Shape shape, double size, plot::Colour colour) {
    cairo_t* const to = page_->pen;
    page_->use(colour);
    cairo_set_dash(to, nullptr, 0, 0.0);
    cairo_new_path(to);
    if (shape == plot::Shape::disc || shape == plot::Shape::ring) {
        const bool solid = shape == plot::Shape::disc;
        const double line = 0.18 * size;
        cairo_arc(to, centre.x, centre.y, 0.5 * size - (solid ? 0.0 : 0.5 * line), 0.0,
                  2.0 * std::numbers::pi);
        cairo_set_line_width(to, line);
        solid ? cairo_fill(to) : cairo_stroke(to);
        return;
    }
    for (const Point corner : plot::corners(shape, centre, size)) {
        cairo_line_to(to, corner.x, corner.y);
    }
    cairo_close_path(to);
    cairo_fill(to);
}

void CairoCanvas::text(Point at, std::string_view words, const plot::Lettering& lettering) {
    const plot::Size size = page_->set(words, lettering.height, lettering.weight);
    double x = at.x;
    x -= lettering.across == plot::Across::right    ? size.width
         : lettering.across == plot::Across::centre ? 0.5 * size.width
                                                    : 0.0;
    double y = at.y + page_->ascent;
    y -= lettering.upright == plot::Upright::bottom   ? size.height
         : lettering.upright == plot::Upright::middle ? 0.5 * size.height
                                                      : 0.0;
    page_->use(lettering.colour);
    cairo_move_to(page_->pen, x, y);
    pango_cairo_show_layout_line(page_->pen, pango_layout_get_line_readonly(page_->line, 0));
}

plot::Size CairoCanvas::measure(std::string_view words, double height, plot::Weight weight) const {
    return page_->set(words, height, weight);
}

void CairoCanvas::keep_inside(const plot::Box& box) {
    cairo_save(page_->pen);
    cairo_rectangle(page_->pen, box.left, box.top, box.width(), box.height());
    cairo_clip(page_->pen);
}

void CairoCanvas::keep_all() { cairo_restore(page_->pen); }

void CairoCanvas::next_page() {
    if (page_->kind != PictureKind::pdf) {
        throw std::invalid_argument("next_page: only a PDF has pages");
    }
    cairo_show_page(page_->pen);
}

void CairoCanvas::finish() {
    page_->check(cairo_status(page_->pen));
    if (page_->kind == PictureKind::png) {
        page_->check(cairo_surface_write_to_png(page_->surface, page_->beside.c_str()));
    }
    cairo_surface_finish(page_->surface);
    page_->check(cairo_surface_status(page_->surface));
    page_->close();
    std::error_code failed;
    std::filesystem::rename(page_->beside, page_->path, failed);
    if (failed) {
        throw base::Failure("The file " + page_->path.string() +
                                " could not be put in its place. Check the folder's permissions; "
                                "the ledger is not touched.",
                            failed.message());
    }
}

} // namespace platewright::report
