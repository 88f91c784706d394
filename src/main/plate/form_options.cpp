#include "main/plate/form_options.hpp"

#include "base/text.hpp"
#include "plate/shape/height_text.hpp"
#include "plate/shape/hole_text.hpp"
#include "plate/thickness/table_text.hpp"
#include "trends/model/plate_form.hpp"

#include <algorithm>
#include <array>
#include <fmt/format.h>
#include <fstream>
#include <sstream>

namespace platewright::cli {
namespace {

using base::Fault;
using MaybeFault = std::optional<Fault>;

constexpr std::uintmax_t k_largest_text = 16U << 20U;

/// What a plate's outline is refused for, with what became of the data.
Fault not_stored(const Fault& fault) { return {fault.what + " Nothing was stored.", fault.detail}; }

/// Numbers with a colon between them.
std::vector<std::optional<double>> numbers_of(const std::string& text) {
    std::vector<std::optional<double>> numbers;
    std::istringstream parts(text);
    for (std::string part; std::getline(parts, part, ':');)
        numbers.push_back(base::parse_number(part));
    return numbers;
}

/// As many numbers as are wanted, all within the range; empty where they are not.
std::vector<double> exactly(const std::string& text, std::size_t count, double low, double high) {
    std::vector<double> out;
    for (const auto& number : numbers_of(text))
        if (number && *number >= low && *number <= high)
            out.push_back(*number);
    return out.size() == count && numbers_of(text).size() == count ? out : std::vector<double>{};
}

MaybeFault set_outline(ledger::FormRecord& form, const FormOptions& o) {
    const auto text = read_text(o.outline);
    if (!text)
        return text.fault();
    const auto outline = o.outline.extension() == ".svg" ? plate::outline_from_svg(*text)
                                                         : plate::outline_from_csv(*text);
    if (!outline)
        return not_stored({fmt::format("“{}”: {}", o.outline.string(), outline.fault().what),
                           outline.fault().detail});
    form.rim = outline->rim;
    form.size = outline->size;
    return std::nullopt;
}

MaybeFault set_heights(ledger::FormRecord& form, const FormOptions& o) {
    const auto text = read_text(o.heights);
    if (!text)
        return text.fault();
    const auto outline = trends::outline_of(form);
    if (!outline)
        return not_stored(outline.fault());
    const auto heights = plate::heights_from_csv(*text, *outline);
    if (!heights)
        return Fault{fmt::format("“{}”: {}", o.heights.string(), heights.fault().what)};
    form.heights = *heights;
    return std::nullopt;
}

MaybeFault set_bar(ledger::FormRecord& form, const FormOptions& o) {
    if (o.bar.empty() && o.bar_line.empty())
        return std::nullopt;
    plate::BassBar bar = form.bar.value_or(plate::usual_bar(form.size));
    if (!o.bar.empty()) {
        const auto count = numbers_of(o.bar).size();
        const auto v = exactly(o.bar, std::clamp<std::size_t>(count, 2, 4), 0.5, 60);
        if (v.empty())
            return Fault{"--bar takes WIDTH:HEIGHT in mm, and after them the height of its ends in "
                         "mm and how full it is "
                         "between (1: straight slopes, 2: a bow, more: flatter in the middle). "
                         "Nothing was stored."};
        bar.width_mm = v[0];
        bar.height_mm = v[1];
        bar.end_height_mm = v.size() > 2 ? v[2] : std::min(bar.end_height_mm, bar.height_mm);
        bar.fullness = v.size() > 3 ? v[3] : bar.fullness;
    }
    if (!o.bar_line.empty()) {
        const auto v = exactly(o.bar_line, 4, -plate::k_longest_mm, plate::k_longest_mm);
        if (v.empty())
            return Fault{
                "--bar-line takes X:Y:X:Y, the lower and the upper end of the bar's middle line in "
                "mm, X from the "
                "centre line, positive to the right as seen from the outside. Nothing was stored."};
        bar.lower = {v[0], v[1]};
        bar.upper = {v[2], v[3]};
    }
    form.bar = bar;
    return std::nullopt;
}

MaybeFault set_hole_line(ledger::FormRecord& form, const FormOptions& o) {
    if (!o.f_holes.empty())
        return Fault{"Give --f-holes or --f-hole-line, not both. Nothing was stored."};
    const auto text = read_text(o.f_hole_line);
    if (!text)
        return text.fault();
    const auto holes = o.f_hole_line.extension() == ".svg" ? plate::holes_from_svg(*text)
                                                           : plate::holes_from_csv(*text);
    if (!holes)
        return not_stored({fmt::format("“{}”: {}", o.f_hole_line.string(), holes.fault().what),
                           holes.fault().detail});
    form.f_hole_rims = *holes;
    form.f_holes.reset();
    return std::nullopt;
}

MaybeFault set_fittings(ledger::FormRecord& form, const FormOptions& o) {
    if (!o.f_hole_line.empty())
        if (auto fault = set_hole_line(form, o))
            return fault;
    if (!o.f_holes.empty()) {
        const auto v = exactly(o.f_holes, 4, 1, plate::k_longest_mm);
        if (v.empty())
            return Fault{"--f-holes takes X:Y:X:Y, the middles of the right hole's upper and lower "
                         "eye in mm, X from the "
                         "centre line, Y from the lower end. Nothing was stored."};
        plate::FHole hole = plate::usual_f_hole(form.size);
        hole.upper = {v[0], v[1]};
        hole.lower = {v[2], v[3]};
        form.f_holes = hole;
        form.f_hole_rims.clear();
    }
    return set_bar(form, o);
}

/// Size, arching, wood: what is one figure or word each.
MaybeFault set_fields(ledger::FormRecord& form, const FormOptions& o) {
    try {
        form = o.of_form.put_into(form);
    } catch (const CLI::ValidationError& wrong) {
        return not_stored({fmt::format("{}.", wrong.what())});
    }
    for (const char* size : {"length", "upper", "waist", "lower"})
        if (o.of_form.said(size))
            form.rim.clear(); // the outline is drawn through what was said now
    if (form.arching.arch_mm <= form.arching.edge_mm)
        return Fault{"The arch (--arch) must be higher than the edge (--edge): both are heights of "
                     "the outside above the "
                     "edge's underside. Nothing was stored."};
    return std::nullopt;
}

} // namespace

bool FormOptions::any() const {
    return of_form.any() || !outline.empty() || !heights.empty() || !f_hole_line.empty() ||
           !f_holes.empty() || !bar.empty() || !bar_line.empty();
}

base::Result<std::string> read_text(const std::filesystem::path& path) {
    std::error_code error;
    const auto size = std::filesystem::file_size(path, error);
    if (error || size > k_largest_text || !std::filesystem::is_regular_file(path, error))
        return Fault{fmt::format("“{}” can't be read: {}. Nothing was stored.", path.string(),
                                 error ? error.message() : "it is no text file")};
    std::ifstream in(path, std::ios::binary);
    std::ostringstream text;
    text << in.rdbuf();
    std::string whole = text.str();
    if (whole.find('\0') != std::string::npos)
        return Fault{fmt::format("“{}” is no text file. Nothing was stored.", path.string())};
    if (whole.starts_with("\xEF\xBB\xBF")) // a mark that some spreadsheets put first
        whole.erase(0, 3);
    return plate::as_utf8(whole);
}

base::Result<ledger::FormRecord> form_with(ledger::FormRecord form, const FormOptions& options) {
    if (auto fault = set_fields(form, options))
        return *fault;
    if (!options.outline.empty())
        if (auto fault = set_outline(form, options))
            return *fault;
    if (const auto outline = trends::outline_of(form); !outline)
        return not_stored(outline.fault());
    if (auto fault = set_fittings(form, options))
        return *fault;
    if (!options.heights.empty())
        if (auto fault = set_heights(form, options))
            return *fault;
    if (auto fault = trends::fault_in(form))
        return *fault;
    return form;
}

void add_form_options(CLI::App& command, FormOptions& o) {
    const std::string group = "The plate's shape (remembered)";
    const auto add = [&](const char* name, auto& value, const char* about, const char* type) {
        command.add_option(name, value, about)->type_name(type)->group(group);
    };
    o.of_form.add_to(command, {}, group);
    add("--outline", o.outline,
        "Measured outline: x, y in mm a line (.csv), or one closed path in mm (.svg)", "FILE");
    add("--heights", o.heights, "Measured heights of the outside: x, y, height in mm a line (.csv)",
        "FILE");
    add("--f-holes", o.f_holes, "Eyes of a top's right f-hole, upper then lower [the usual place]",
        "X:Y:X:Y");
    add("--f-hole-line", o.f_hole_line,
        "Line of a top's f-hole as it is cut: x, y in mm a line (.csv), or a drawing in mm (.svg); "
        "one "
        "is mirrored. In a drawing with the outline round it, it lies where it lies there",
        "FILE");
    add("--bar", o.bar,
        "A top's bass bar, the height of its ends, how full it is between [the usual one]",
        "W:H[:END[:FULL]]");
    add("--bar-line", o.bar_line, "Ends of its middle line, lower then upper [the usual place]",
        "X:Y:X:Y");
}

} // namespace platewright::cli
