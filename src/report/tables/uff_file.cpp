#include "report/tables/uff_file.hpp"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>
#include <stdexcept>

namespace platewright::report {
namespace {

constexpr std::size_t k_columns = 80;

/// Plain ASCII of at most so many letters: columns are counted in bytes.
std::string plain(std::string_view words, std::size_t most = k_columns) {
    std::string text;
    for (const char c : words) {
        const auto code = static_cast<unsigned char>(c);
        if ((code & 0xC0U) == 0x80U)
            continue; // the rest of a letter that has its sign already
        text += code >= 0x20 && code < 0x7F ? c : '?';
    }
    return text.substr(0, most);
}

/// FORTRAN's E13.5 and E20.12, as readers of fixed columns expect them.
std::string real13(double value) { return fmt::format("{:13.5E}", value); }
std::string real20(double value) { return fmt::format("{:20.12E}", value); }

std::string name10(std::string_view name) { return fmt::format("{:<10}", plain(name, 10)); }

/// Records 8 to 11: what an axis carries.
std::string axis(int data_type, std::array<int, 3> exponents, std::string_view label,
                 std::string_view units) {
    return fmt::format("{:10}{:5}{:5}{:5} {:<20} {:<20}", data_type, exponents[0], exponents[1],
                       exponents[2], plain(label, 20), plain(units, 20));
}

/// Exponents of length, force and temperature in a quantity's unit.
std::array<int, 3> exponents_of(int data_type) {
    switch (data_type) {
    case 8:  // displacement
    case 11: // velocity
    case 12: // acceleration
        return {1, 0, 0};
    case 13: // excitation force
        return {0, 1, 0};
    case 15: // pressure
        return {-2, 1, 0};
    default:
        return {0, 0, 0};
    }
}

} // namespace

void UffWriter::line(std::string_view words) {
    text_ += words.substr(0, words.find_last_not_of(' ') + 1);
    text_ += '\n';
}

void UffWriter::begin(int dataset) {
    line("    -1");
    line(fmt::format("{:6}", dataset));
}

void UffWriter::end() { line("    -1"); }

UffWriter::UffWriter(std::string_view title, std::string_view program, std::string_view written) {
    begin(151);
    line(plain(title));
    line("NONE");
    line(plain(program));
    line(fmt::format("{:<10}{:<10}{:10}{:10}{:10}", plain(written, 10), "00:00:00", 0, 0, 0));
    line(fmt::format("{:<10}{:<10}", plain(written, 10), "00:00:00"));
    line(plain(program));
    line(fmt::format("{:<10}{:<10}", plain(written, 10), "00:00:00"));
    end();
    begin(164);
    line(fmt::format("{:10}{:<20}{:10}", 1, "SI: Meter (newton)", 2));
    line(fmt::format("{:25.17E}{:25.17E}{:25.17E}", 1.0, 1.0, 1.0));
    line(fmt::format("{:25.17E}", 273.15));
    end();
}

void UffWriter::nodes(std::span<const std::array<double, 3>> places_m) {
    begin(15);
    for (const auto& [x, y, z] : places_m)
        line(fmt::format("{:10}{:10}{:10}{:10}{}{}{}", ++nodes_, 0, 0, 1, real13(x), real13(y),
                         real13(z)));
    end();
}

void UffWriter::triangles(std::span<const std::array<int, 3>> corners) {
    constexpr int k_thin_triangle = 91;
    begin(2412);
    int label = 0;
    for (const auto& [a, b, c] : corners) {
        line(fmt::format("{:10}{:10}{:10}{:10}{:10}{:10}", ++label, k_thin_triangle, 1, 1, 1, 3));
        line(fmt::format("{:10}{:10}{:10}", a + 1, b + 1, c + 1));
    }
    end();
}

void UffWriter::add(const UffShape& shape) {
    if (shape.motion.size() != nodes_)
        throw std::invalid_argument("a shape has a row for each node");
    begin(55);
    for (const std::string& about : shape.about)
        line(about.empty() ? "NONE" : plain(about));
    // Structural, normal mode, six freedoms, displacement, real, six values a node.
    line(fmt::format("{:10}{:10}{:10}{:10}{:10}{:10}", 1, 2, 3, 8, 2, 6));
    line(fmt::format("{:10}{:10}{:10}{:10}", 2, 4, 1, shape.number));
    line(real13(shape.frequency_hz) + real13(shape.modal_mass_kg) + real13(shape.damping_ratio) +
         real13(0.0));
    int label = 0;
    for (const auto& freedoms : shape.motion) {
        line(fmt::format("{:10}", ++label));
        std::string row;
        for (const double value : freedoms) {
            if (!std::isfinite(value))
                throw std::invalid_argument("a motion that is not finite");
            row += real13(value);
        }
        line(row);
    }
    end();
}

void UffWriter::add(const UffFunction& f) {
    const bool is_complex = !f.complex.empty();
    if (f.real.empty() == f.complex.empty())
        throw std::invalid_argument("a function has values, real or complex");
    begin(58);
    for (const std::string& about : f.about)
        line(about.empty() ? "NONE" : plain(about));
    line(fmt::format("{:5}{:10}{:5}{:10} {}{:10}{:4} {}{:10}{:4}", static_cast<int>(f.kind),
                     ++functions_, 1, 0, name10(f.heard.entity.empty() ? "NONE" : f.heard.entity),
                     f.heard.node, f.heard.direction,
                     name10(f.driven.entity.empty() ? "NONE" : f.driven.entity), f.driven.node,
                     f.driven.direction));
    const std::size_t count = is_complex ? f.complex.size() : f.real.size();
    // Double precision, evenly spaced.
    line(fmt::format("{:10}{:10}{:10}{}{}{}", is_complex ? 6 : 4, count, 1, real13(f.first_hz),
                     real13(f.step_hz), real13(0.0)));
    line(axis(18, {0, 0, 0}, "FREQUENCY", "HZ"));
    for (const UffFunction::Side* side : {&f.heard, &f.driven})
        line(axis(side->data_type, exponents_of(side->data_type),
                  side->label.empty() ? "NONE" : side->label,
                  side->units.empty() ? "NONE" : side->units));
    line(axis(0, {0, 0, 0}, "NONE", "NONE"));
    std::string row;
    const auto put = [&](double value) {
        if (!std::isfinite(value))
            throw std::invalid_argument("a value that is not finite");
        row += real20(value);
        if (row.size() == k_columns) {
            line(row);
            row.clear();
        }
    };
    for (const double value : f.real)
        put(value);
    for (const std::complex<double>& value : f.complex) {
        put(value.real());
        put(value.imag());
    }
    if (!row.empty())
        line(row);
    end();
}

} // namespace platewright::report
