#pragma once
#include <array>
#include <complex>
#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace platewright::report {

/// A function of frequency (dataset 58). Values stand at first_hz, first_hz + step_hz, …
struct UffFunction {
    /// As the format counts them.
    enum class Kind { auto_power = 2, response = 4, coherence = 6, spectrum = 12 };
    Kind kind = Kind::spectrum;
    std::array<std::string, 5> about; ///< at most 80 letters each; plain ASCII is kept, else “?”
    double first_hz = 0.0, step_hz = 0.0;
    std::vector<double> real;                  ///< one of the two is empty
    std::vector<std::complex<double>> complex; ///< of a response
    /// What was heard, over what drove it; a denominator only of a response.
    struct Side {
        std::string entity;       ///< at most 10 letters: "MICROPHONE"
        int node = 0;             ///< label of the node, 0: none
        int direction = 0;        ///< 0 scalar, 1 to 3 along x, y, z; less than nothing: against
        int data_type = 0;        ///< 0 unknown, 12 acceleration, 13 force driving it, 15 pressure
        std::string label, units; ///< at most 20 letters each
    };
    Side heard, driven;
};

/// A normal mode (dataset 55): six freedoms a node, as many rows as nodes were written.
struct UffShape {
    std::array<std::string, 5> about;
    int number = 0; ///< counted from the lowest, 1 on
    double frequency_hz = 0.0;
    double modal_mass_kg = 1.0;
    double damping_ratio = 0.0; ///< of critical, 1/(2Q); 0: unknown
    std::vector<std::array<double, 6>> motion;
};

/// A Universal File: text of 80 columns, datasets between lines of −1, as published by the
/// Structural Dynamics Research Laboratory of the University of Cincinnati (Universal File Formats
/// for Modal Analysis Testing: datasets 15, 55, 58, 151, 164, 2412). Nodes are labelled from 1 in
/// the order given; lengths in m, SI units. Threads: one. Cost: linear.
/// Throws std::invalid_argument: a shape whose rows are not as many as the nodes, values that are
/// not finite, or a function without values or of both kinds.
class UffWriter {
public:
    /// Header (151) and units (164). `written` as "2026-03-14".
    UffWriter(std::string_view title, std::string_view program, std::string_view written);
    void nodes(std::span<const std::array<double, 3>> places_m);
    /// Thin triangles between nodes, counted from 0.
    void triangles(std::span<const std::array<int, 3>> corners);
    void add(const UffShape& shape);
    void add(const UffFunction& function);
    const std::string& text() const { return text_; }

private:
    void begin(int dataset);
    void end();
    void line(std::string_view words);
    std::string text_;
    std::size_t nodes_ = 0;
    int functions_ = 0;
};

} // namespace platewright::report
