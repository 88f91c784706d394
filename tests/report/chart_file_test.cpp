#include "base/failure.hpp"
#include "plot/drift.hpp"
#include "report/tables/chart_file.hpp"
#include "support/catch.hpp"

#include <filesystem>
#include <fstream>
#include <sstream>
#include <unistd.h>

using namespace platewright;
namespace fs = std::filesystem;

namespace {

/// A folder of this test's own, gone at its end.
struct Folder {
    fs::path path =
        fs::temp_directory_path() / ("platewright_report_" + std::to_string(::getpid()));
    Folder() { fs::create_directories(path); }
    ~Folder() { fs::remove_all(path); }
};

std::string content(const fs::path& path) {
    std::ifstream in(path, std::ios::binary);
    std::ostringstream out;
    out << in.rdbuf();
    return out.str();
}

plot::Chart chart() {
    plot::DriftPicture picture;
    picture.sessions = {{"1", "rough", 130.0, 20000}, {"2", "graduating", 126.0, 20003}};
    picture.tracks.push_back(
        {.name = 5, .words = "mode 5 (ring)", .points = {{0, 412.5, 1}, {1, 401.25, 1}}});
    return plot::drift_chart(picture, plot::paper_palette());
}

unsigned big_endian(const std::string& bytes, std::size_t at) {
    unsigned value = 0;
    for (std::size_t i = at; i < at + 4; ++i) {
        value = value << 8U | static_cast<unsigned char>(bytes[i]);
    }
    return value;
}

} // namespace

TEST_CASE("a PNG has the signature and the size asked for") {
    const Folder folder;
    const fs::path path = folder.path / "drift.png";
    report::write_chart(chart(), path, report::PictureKind::png, {640, 400});
    const std::string bytes = content(path);
    // Signature and IHDR at byte 16: W3C, Portable Network Graphics, sections 5.2 and 11.2.2.
    REQUIRE(bytes.size() > 24);
    CHECK(bytes.substr(0, 8) == "\x89PNG\r\n\x1a\n");
    CHECK(big_endian(bytes, 16) == 640);
    CHECK(big_endian(bytes, 20) == 400);
}

TEST_CASE("an SVG and a PDF begin as their standards say and are whole") {
    const Folder folder;
    report::write_chart(chart(), folder.path / "d.svg", report::PictureKind::svg);
    report::write_chart(chart(), folder.path / "d.pdf", report::PictureKind::pdf);
    const std::string svg = content(folder.path / "d.svg");
    CHECK(svg.find("<svg") != std::string::npos);
    CHECK(svg.find("</svg>") != std::string::npos);
    const std::string pdf = content(folder.path / "d.pdf");
    CHECK(pdf.substr(0, 5) == "%PDF-"); // ISO 32000, 7.5.2
    CHECK(pdf.find("%%EOF") != std::string::npos);
}

TEST_CASE("nothing but the finished picture is left in the folder") {
    const Folder folder;
    report::write_chart(chart(), folder.path / "d.svg", report::PictureKind::svg);
    { report::CairoCanvas abandoned(folder.path / "no.svg", report::PictureKind::svg, {100, 100}); }
    int files = 0;
    for ([[maybe_unused]] const auto& entry : fs::directory_iterator(folder.path)) {
        ++files;
    }
    CHECK(files == 1);
}

TEST_CASE("a folder that is not there gives one sentence with a remedy") {
    const fs::path path = "/nonexistent-folder/drift.png";
    for (const auto kind : {report::PictureKind::png, report::PictureKind::svg}) {
        try {
            report::write_chart(chart(), path, kind);
            FAIL("it was written to a folder that is not there");
        } catch (const base::Failure& failure) {
            CHECK(std::string(failure.what()).find(path.string()) != std::string::npos);
            CHECK(std::string(failure.what()).find("ledger is not touched") != std::string::npos);
        }
    }
}

TEST_CASE("a picture's kind is read from its name's ending") {
    CHECK(*report::picture_kind("a.PNG") == report::PictureKind::png);
    CHECK(*report::picture_kind("a/b.svg") == report::PictureKind::svg);
    CHECK(*report::picture_kind("c.pdf") == report::PictureKind::pdf);
    CHECK_FALSE(report::picture_kind("a.jpg"));
    CHECK_FALSE(report::picture_kind("png"));
}

TEST_CASE("measured text grows with its letters and its height") {
    const Folder folder;
    report::CairoCanvas canvas(folder.path / "m.png", report::PictureKind::png, {100, 100});
    const auto width = [&](std::string_view words, double height) {
        return canvas.measure(words, height, plot::Weight::regular).width;
    };
    CHECK(width("mode 5 (ring)", 14) > width("mode 5", 14));
    CHECK(width("mode 5", 28) == Approx(2 * width("mode 5", 14)).epsilon(0.1));
}
