#include <string>

#include "base/words.hpp"
#include "modes/mode.hpp"
#include "modes/subject.hpp"

namespace platewright::modes {
namespace {

using base::row_of;
using base::value_of;
using base::Word;

constexpr std::array k_kind_names{
    Word<InstrumentKind>{InstrumentKind::violin, "violin", "violin"},
    Word<InstrumentKind>{InstrumentKind::viola, "viola", "viola"},
    Word<InstrumentKind>{InstrumentKind::cello, "cello", "cello"},
    Word<InstrumentKind>{InstrumentKind::other, "other", "other"},
};
constexpr std::array k_part_names{
    Word<Part>{Part::top, "top", "top"},
    Word<Part>{Part::back, "back", "back"},
};
constexpr std::array k_stage_names{
    Word<Stage>{Stage::rough, "rough", "rough"},
    Word<Stage>{Stage::graduating, "graduating", "graduating"},
    Word<Stage>{Stage::graduated, "graduated", "graduated"},
    Word<Stage>{Stage::f_holes_cut, "f_holes_cut", "f-holes cut"},
    Word<Stage>{Stage::bar_fitted, "bar_fitted", "bar fitted"},
    Word<Stage>{Stage::finished, "finished", "finished"},
};

} // namespace

std::string_view to_word(InstrumentKind kind) { return row_of(k_kind_names, kind).word; }
std::string_view to_word(Part part) { return row_of(k_part_names, part).word; }
std::string_view to_word(Stage stage) { return row_of(k_stage_names, stage).word; }
std::string_view to_text(Stage stage) { return row_of(k_stage_names, stage).text; }
std::optional<InstrumentKind> instrument_kind_from_word(std::string_view word) {
    return value_of(k_kind_names, word);
}
std::optional<Part> part_from_word(std::string_view word) { return value_of(k_part_names, word); }
std::optional<Stage> stage_from_word(std::string_view word) { return value_of(k_stage_names, word); }

std::string mode_text(int number) {
    const std::string plain = "mode " + std::to_string(number);
    switch (number) {
    case 1: return plain + " (twist)";
    case 2: return plain + " (X)";
    case 5: return plain + " (ring)";
    default: return plain;
    }
}

} // namespace platewright::modes
