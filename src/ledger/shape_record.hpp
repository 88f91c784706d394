#pragma once
#include "base/clock.hpp"
#include "plate/plan/planned.hpp"
#include "plate/readings.hpp"
#include "plate/shape/fittings.hpp"
#include "plate/shape/outline.hpp"

#include <array>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace platewright::ledger {

/// What is kept of a plate's shape and of its wood under the scraper, as plain values. Places are
/// seen from the outside, in mm (plate/shape/point.hpp).

/// The shape that a plate has throughout its sessions; thickness is each session's own.
struct FormRecord {
    bool operator==(const FormRecord&) const = default;
    plate::OutlineSize size;       ///< as measured with a rule
    std::vector<plate::Point> rim; ///< measured outline; empty: drawn from the size
    plate::ArchingProfile arching;
    std::vector<plate::HeightReading> heights; ///< measured on the outside; may be empty
    std::optional<plate::FHole> f_holes;       ///< of a top, right one; nothing: in the usual place
    /// Its measured line, or that of the right and the left one; counts before the eyes.
    std::vector<plate::Loop> f_hole_rims;
    std::optional<plate::BassBar> bar; ///< of a top; nothing: the usual one
    std::string species;               ///< key of plate::species_table(); empty: the part's usual
    bool two_piece = true;
    /// Wood that differs left to right, seen from the outside: the right half's over the left's.
    double right_density = 1.0;
    double right_stiffness = 1.0; ///< of all elastic constants
    /// Of the rings on the end grain off upright, seen from the lower end with the outside up;
    /// above 0 they lean to the right going up. The mean of what both ends show; nothing: not
    /// looked at.
    std::optional<double> rings_left_deg, rings_right_deg;
    /// Of one half or both; a half that nobody looked at is like the other.
    bool has_rings() const { return rings_left_deg || rings_right_deg; }
    /// Of the right half's fibres off the plate's plane: above 0 they rise to the outside going to
    /// the upper end. A left half that was opened like a book has them the other way.
    std::optional<double> run_out_deg;
};

/// The caliper readings of one session. A corrected map is kept beside the one it replaces.
struct MapRecord {
    bool operator==(const MapRecord&) const = default;
    std::int64_t id = 0;
    base::Timestamp at;
    std::vector<plate::ThicknessReading> readings; ///< empty: none taken
};

/// A note pinned to a place of the plate: stiff here, moves well there.
struct PinRecord {
    bool operator==(const PinRecord&) const = default;
    std::int64_t id = 0;
    std::int64_t session = 0;
    plate::Point at;
    std::string text;
};

/// How a plate was bent: on two bars along its length or across it with the load in the middle, or
/// held at three corners with the load on the fourth. trends::flex_reading has the places.
enum class FlexKind { lengthwise, crosswise, twist };
inline constexpr std::array k_flex_kinds{FlexKind::lengthwise, FlexKind::crosswise,
                                         FlexKind::twist};
std::string_view to_word(FlexKind kind);
std::string_view to_text(FlexKind kind); ///< in the language of now
std::optional<FlexKind> flex_kind_from_word(std::string_view word);

/// One reading of how far a plate gives under a load.
struct FlexRecord {
    bool operator==(const FlexRecord&) const = default;
    std::int64_t id = 0;
    std::int64_t session = 0;
    FlexKind kind = FlexKind::lengthwise;
    double span_mm = 0;       ///< between the bars; in twist along the plate
    double load_g = 0;        ///< grams laid on
    double deflection_mm = 0; ///< under the load
};

/// What was laid on the plate: it leaves no mark.
enum class LaidThing { putty, magnets };
inline constexpr std::array k_laid_things{LaidThing::putty, LaidThing::magnets};
std::string_view to_word(LaidThing thing);
std::string_view to_text(LaidThing thing); ///< in the language of now
std::optional<LaidThing> laid_thing_from_word(std::string_view word);

/// A small mass laid on a place and taken off again, to weigh the modes there
/// (plate/fit/weighed.hpp). The taps with it on bear its id; trends::weighed_shifts sets them
/// beside those without it.
struct WeighingRecord {
    bool operator==(const WeighingRecord&) const = default;
    std::int64_t id = 0;
    std::int64_t session = 0;
    base::Timestamp begun;
    plate::Point at;
    std::string place; ///< how the maker calls it; may be empty
    LaidThing thing = LaidThing::putty;
    double mass_g = 0;
    double place_sd_mm = 2; ///< each way, of where it truly lies
};

/// A plan as it was shown to the maker, so that it can be held against what happened.
struct PlanRecord {
    bool operator==(const PlanRecord&) const = default;
    std::int64_t id = 0;
    std::int64_t session = 0; ///< whose thickness and modes it started from
    base::Timestamp made;
    std::string model_version;
    double pass_share = 0; ///< of the whole, in one pass
    double wood_g = 0;     ///< all of it
    std::string summary;
    std::vector<plate::PlanOutcome> modes;
    std::vector<plate::Stroke> strokes; ///< all of it, not the pass
};

} // namespace platewright::ledger
