#pragma once
#include "wording/phrases_advice.hpp"
#include "wording/phrases_bench.hpp"
#include "wording/phrases_body.hpp"
#include "wording/phrases_carving.hpp"
#include "wording/phrases_charts.hpp"
#include "wording/phrases_decision.hpp"
#include "wording/phrases_ear.hpp"
#include "wording/phrases_files.hpp"
#include "wording/phrases_hands.hpp"
#include "wording/phrases_ledger.hpp"
#include "wording/phrases_model.hpp"
#include "wording/phrases_notices.hpp"
#include "wording/phrases_page.hpp"
#include "wording/phrases_plates.hpp"
#include "wording/phrases_recovery.hpp"
#include "wording/phrases_shape.hpp"
#include "wording/phrases_sheet.hpp"
#include "wording/phrases_speech.hpp"
#include "wording/phrases_walk.hpp"
#include "wording/phrases_weighing.hpp"
#include "wording/phrases_wood.hpp"
#include "wording/phrases_work.hpp"

#include <span>

namespace platewright::wording {

/// All that a person reads in the window and on the sheets. A new view adds a file of its own here.
inline constexpr std::array<std::span<const Row>, 22> k_catalogue{
    k_advice_phrases,   k_bench_phrases,  k_body_phrases,     k_carving_phrases,
    k_weighing_phrases, k_charts_phrases, k_decision_phrases, k_ear_phrases,
    k_files_phrases,    k_hands_phrases,  k_ledger_phrases,   k_model_phrases,
    k_notices_phrases,  k_page_phrases,   k_plates_phrases,   k_recovery_phrases,
    k_shape_phrases,    k_sheet_phrases,  k_speech_phrases,   k_walk_phrases,
    k_wood_phrases,     k_work_phrases};

/// A text in all languages at once, for what a maker types; the English in each where there is no
/// such text.
constexpr Row in_every_language(std::string_view english) {
    for (const std::span<const Row> part : k_catalogue)
        for (const Row& row : part)
            if (row.english == english)
                return row;
    return {english, english, english};
}

} // namespace platewright::wording
