#pragma once
#include <array>
#include <optional>
#include <string_view>
#include <vector>

namespace platewright::modes {

/// What the taps were taken on: enough to know where its modes are to be expected.
enum class InstrumentKind { violin, viola, cello, double_bass, other };
enum class Part {
    top,
    back,
    body, ///< the closed instrument, tapped at the bridge
};

/// How far the work is.
enum class Stage {
    rough,      ///< planed or gouged out, well over thickness
    graduating, ///< scraping towards the final thickness
    graduated,  ///< thickness done; a top still without f-holes and bar
    f_holes_cut,
    bar_fitted,
    finished, ///< the free plate as it goes onto the ribs
    closed,   ///< of a body: glued up, in the white
    varnished,
    set_up, ///< with post, bridge and strings
};

inline constexpr std::array k_instrument_kinds{InstrumentKind::violin, InstrumentKind::viola,
                                               InstrumentKind::cello, InstrumentKind::double_bass,
                                               InstrumentKind::other};
inline constexpr std::array k_parts{Part::top, Part::back, Part::body};
inline constexpr std::array k_stages{Stage::rough,       Stage::graduating, Stage::graduated,
                                     Stage::f_holes_cut, Stage::bar_fitted, Stage::finished,
                                     Stage::closed,      Stage::varnished,  Stage::set_up};

/// Whether a part can be at a stage: a body is closed, a plate is not yet; only a top has f-holes
/// and a bar.
constexpr bool suits(Part part, Stage stage) {
    const bool is_top_only = stage == Stage::f_holes_cut || stage == Stage::bar_fitted;
    return (part == Part::body) == (stage >= Stage::closed) && (part != Part::back || !is_top_only);
}
/// The stages that a part can be at, in the order of the work.
inline std::vector<Stage> stages_of(Part part) {
    std::vector<Stage> all;
    for (const Stage stage : k_stages)
        if (suits(part, stage))
            all.push_back(stage);
    return all;
}

std::string_view to_word(InstrumentKind kind); ///< "violin"
std::string_view to_word(Part part);           ///< "back"
std::string_view to_word(Stage stage);         ///< "f_holes_cut"
/// What the maker reads, in his language: "f-holes cut".
std::string_view to_text(InstrumentKind kind);
std::string_view to_text(Part part);
std::string_view to_text(Stage stage);
std::optional<InstrumentKind> instrument_kind_from_word(std::string_view word);
std::optional<Part> part_from_word(std::string_view word);
std::optional<Stage> stage_from_word(std::string_view word);

/// The body's length of a full size, mm (common practice, no source; violas and basses vary most).
constexpr double usual_body_length_mm(InstrumentKind kind) {
    switch (kind) {
    case InstrumentKind::viola:
        return 410.0;
    case InstrumentKind::cello:
        return 755.0;
    case InstrumentKind::double_bass:
        return 1110.0;
    case InstrumentKind::violin:
    case InstrumentKind::other:
        break;
    }
    return 355.0;
}

struct Subject {
    InstrumentKind kind = InstrumentKind::violin;
    Part part = Part::back;
    Stage stage = Stage::graduating;
    std::optional<double> mass_g = std::nullopt;
    std::optional<double> body_length_mm = std::nullopt; ///< nothing: the full size

    /// This body's length in lengths of the full size; 1 where nobody said, or the kind says
    /// nothing.
    double size() const {
        return body_length_mm && kind != InstrumentKind::other
                   ? *body_length_mm / usual_body_length_mm(kind)
                   : 1.0;
    }
};

} // namespace platewright::modes
