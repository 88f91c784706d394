#pragma once
#include "base/result.hpp"
#include "plot/chart.hpp"
#include "plot/plate/plate_picture.hpp"
#include "report/sheet/cairo_canvas.hpp"

#include <filesystem>

namespace platewright::report {

/// What a file's name asks for by its ending (.png, .svg, .pdf, in any case); else a Fault that
/// names the three.
base::Result<PictureKind> picture_kind(const std::filesystem::path& path);

/// Writes a chart as it stands on the screen, on white, with a margin. PNG: `size` in pixels;
/// SVG and PDF: in points (1/72 inch). Throws base::Failure when it can't be written.
void write_chart(const plot::Chart& chart, const std::filesystem::path& path, PictureKind kind,
                 plot::Size size = {1200.0, 760.0});

/// The same for the picture of a plate.
void write_chart(const plot::PlatePicture& picture, const std::filesystem::path& path,
                 PictureKind kind, plot::Size size = {760.0, 900.0});

} // namespace platewright::report
