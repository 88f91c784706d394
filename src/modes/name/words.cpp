#include "base/words.hpp"

#include "modes/mode.hpp"
#include "modes/subject.hpp"
#include "wording/say.hpp"

#include <string>

namespace platewright::modes {
namespace {

using base::row_of;
using base::value_of;
using wording::say;

template <class T>
using Said = base::Word<T, wording::Phrase>;

constexpr std::array k_kind_names{
    Said<InstrumentKind>{InstrumentKind::violin, "violin", "violin"},
    Said<InstrumentKind>{InstrumentKind::viola, "viola", "viola"},
    Said<InstrumentKind>{InstrumentKind::cello, "cello", "cello"},
    Said<InstrumentKind>{InstrumentKind::double_bass, "double_bass", "double bass"},
    Said<InstrumentKind>{InstrumentKind::other, "other", "other"},
};
constexpr std::array k_part_names{
    Said<Part>{Part::top, "top", "top"},
    Said<Part>{Part::back, "back", "back"},
    Said<Part>{Part::body, "body", "body"},
};
constexpr std::array k_stage_names{
    Said<Stage>{Stage::rough, "rough", "rough"},
    Said<Stage>{Stage::graduating, "graduating", "graduating"},
    Said<Stage>{Stage::graduated, "graduated", "graduated"},
    Said<Stage>{Stage::f_holes_cut, "f_holes_cut", "f-holes cut"},
    Said<Stage>{Stage::bar_fitted, "bar_fitted", "bar fitted"},
    Said<Stage>{Stage::finished, "finished", "finished"},
    Said<Stage>{Stage::closed, "closed", "closed"},
    Said<Stage>{Stage::varnished, "varnished", "varnished"},
    Said<Stage>{Stage::set_up, "set_up", "set up"},
};

} // namespace

std::string_view to_word(InstrumentKind kind) { return row_of(k_kind_names, kind).word; }
std::string_view to_word(Part part) { return row_of(k_part_names, part).word; }
std::string_view to_word(Stage stage) { return row_of(k_stage_names, stage).word; }
std::string_view to_text(Stage stage) { return say(row_of(k_stage_names, stage).text); }
std::string_view to_text(InstrumentKind kind) { return say(row_of(k_kind_names, kind).text); }
std::string_view to_text(Part part) { return say(row_of(k_part_names, part).text); }
std::optional<InstrumentKind> instrument_kind_from_word(std::string_view word) {
    return value_of(k_kind_names, word);
}
std::optional<Part> part_from_word(std::string_view word) { return value_of(k_part_names, word); }
std::optional<Stage> stage_from_word(std::string_view word) {
    return value_of(k_stage_names, word);
}

std::string short_mode_text(int number) {
    return number >= k_a0 ? mode_text(number) : say("mode {}", number);
}

std::string mode_text(int number) {
    const std::string plain = say("mode {}", number);
    switch (number) {
    case 1:
        return say("{} (twist)", plain);
    case 2:
        return say("{} (X)", plain);
    case 5:
        return say("{} (ring)", plain);
    case k_a0:
        return "A0";
    case k_cbr:
        return "CBR";
    case k_b1_minus:
        return "B1\u2212";
    case k_b1_plus:
        return "B1+";
    default:
        return plain;
    }
}

} // namespace platewright::modes
