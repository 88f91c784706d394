#include "report/tables/chart_file.hpp"

#include <algorithm>

namespace platewright::report {

base::Result<PictureKind> picture_kind(const std::filesystem::path& path) {
    std::string ending = path.extension().string();
    std::transform(ending.begin(), ending.end(), ending.begin(),
                   [](char c) { return c >= 'A' && c <= 'Z' ? static_cast<char>(c + 32) : c; });
    if (ending == ".png") {
        return PictureKind::png;
    }
    if (ending == ".svg") {
        return PictureKind::svg;
    }
    if (ending == ".pdf") {
        return PictureKind::pdf;
    }
    return base::Fault{"“" + path.filename().string() +
                       "” names no kind of picture: end it in .png, .svg or .pdf."};
}

namespace {

template <class Picture>
void write(const Picture& picture, const std::filesystem::path& path, PictureKind kind,
           plot::Size size) {
    CairoCanvas canvas(path, kind, size);
    const plot::Palette& palette = plot::paper_palette();
    canvas.box({0.0, 0.0, size.width, size.height}, palette.ground, 0.0);
    const double margin = 0.02 * std::min(size.width, size.height) + 4.0;
    const double text_height = std::max(9.0, std::min(size.width, size.height) / 42.0);
    plot::draw(picture, {margin, margin, size.width - margin, size.height - margin}, canvas,
               palette, {.text_height = text_height, .line_scale = text_height / 14.0});
    canvas.finish();
}

} // namespace

void write_chart(const plot::Chart& chart, const std::filesystem::path& path, PictureKind kind,
                 plot::Size size) {
    write(chart, path, kind, size);
}

void write_chart(const plot::PlatePicture& picture, const std::filesystem::path& path,
                 PictureKind kind, plot::Size size) {
    write(picture, path, kind, size);
}

} // namespace platewright::report
