#pragma once
#include "plot/canvas.hpp"

#include <filesystem>
#include <memory>

namespace platewright::report {

enum class PictureKind { png, svg, pdf };

/// A page to draw charts on, written by `finish`. Surface units are pixels for PNG and points
/// (1/72 inch) for SVG and PDF. Text is set in Lato where installed, else in the system's sans;
/// letters of other scripts come from whatever font has them. Fails: throws base::Failure when the
/// file can't be written; nothing is left half-written under `path`, since the page is made beside
/// it and renamed. Threads: one a canvas.
class CairoCanvas final : public plot::Canvas {
public:
    CairoCanvas(std::filesystem::path path, PictureKind kind, plot::Size size);
    ~CairoCanvas() override; // an unfinished page is thrown away
    CairoCanvas(const CairoCanvas&) = delete;
    CairoCanvas& operator=(const CairoCanvas&) = delete;

    void polyline(std::span<const plot::Point> points, const plot::Pen& pen) override;
    void ribbon(std::span<const plot::Point> upper, std::span<const plot::Point> lower,
                plot::Colour colour) override;
    void area(std::span<const std::vector<plot::Point>> pieces, plot::Colour colour) override;
    void box(const plot::Box& box, plot::Colour colour, double corner_radius) override;
    void mark(plot::Point centre, plot::Shape shape, double size, plot::Colour colour) override;
    void text(plot::Point at, std::string_view words, const plot::Lettering& lettering) override;
    plot::Size measure(std::string_view words, double height, plot::Weight weight) const override;
    void keep_inside(const plot::Box& box) override;
    void keep_all() override;

    void next_page(); // PDF only; elsewhere std::invalid_argument
    void finish();

private:
    struct Page; // hides Cairo
    std::unique_ptr<Page> page_;
};

} // namespace platewright::report
