// What a reader of fixed columns needs of a Universal File; tests/whole/universal.py reads whole
// ones back with a reader of its own.
#include "report/tables/uff_file.hpp"
#include "support/catch.hpp"

#include <limits>
#include <sstream>
#include <stdexcept>

using namespace platewright::report;

namespace {

std::vector<std::string> lines_of(const std::string& text) {
    std::vector<std::string> lines;
    std::istringstream in(text);
    for (std::string line; std::getline(in, line);)
        lines.push_back(line);
    return lines;
}

UffFunction response() {
    UffFunction f;
    f.kind = UffFunction::Kind::response;
    f.about = {"    -1", "Größe"};
    f.step_hz = 0.5;
    f.complex = {{1.0, -2.5e-7}, {3.25e-100, 4e5}, {-1.0 / 3.0, 0.0}};
    f.heard = {"MICROPHONE", 0, 0, 15, "PRESSURE", "PA"};
    f.driven = {"HAMMER", 7, -3, 13, "FORCE", "N"};
    return f;
}

} // namespace

TEST_CASE("A function's lines keep to 80 columns and its numbers to twelve digits") {
    UffWriter file("Plate", "test", "2026-03-14");
    file.add(response());
    int ends = 0;
    for (const std::string& line : lines_of(file.text())) {
        CHECK(line.size() <= 80);
        ends += line == "    -1" ? 1 : 0;
    }
    CHECK(ends == 7); // three datasets, and words that look like an end
    CHECK(file.text().find("Gr??e") != std::string::npos);
    CHECK(file.text().find("  1.000000000000E+00 -2.500000000000E-07 3.250000000000E-100") !=
          std::string::npos);
    CHECK(file.text().find("-3.333333333333E-01") != std::string::npos);
}

TEST_CASE("What would make a file that can't be read is refused") {
    UffWriter file("Plate", "test", "2026-03-14");
    CHECK_THROWS_AS(file.add(UffFunction{}), std::invalid_argument);
    UffFunction odd = response();
    odd.complex[1] = {std::numeric_limits<double>::infinity(), 0.0};
    CHECK_THROWS_AS(file.add(odd), std::invalid_argument);
    const std::array<std::array<double, 3>, 2> places{{{0, 0, 0}, {1, 0, 0}}};
    file.nodes(places);
    UffShape shape;
    shape.motion.resize(1);
    CHECK_THROWS_AS(file.add(shape), std::invalid_argument);
}
