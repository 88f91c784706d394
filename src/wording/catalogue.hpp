#pragma once
#include "wording/phrases/advice.hpp"
#include "wording/phrases/bench.hpp"
#include "wording/phrases/carving.hpp"
#include "wording/phrases/charts.hpp"
#include "wording/phrases/decision.hpp"
#include "wording/phrases/ear.hpp"
#include "wording/phrases/files.hpp"
#include "wording/phrases/ledger.hpp"
#include "wording/phrases/model.hpp"
#include "wording/phrases/notices.hpp"
#include "wording/phrases/plates.hpp"
#include "wording/phrases/shape.hpp"
#include "wording/phrases/sheet.hpp"
#include "wording/phrases/walk.hpp"
#include "wording/phrases/weighing.hpp"
#include "wording/phrases/wood.hpp"
#include "wording/phrases/work.hpp"

#include <span>

namespace platewright::wording {

/// All that a person reads in the window and on the sheets. A new view adds a file of its own here.
inline constexpr std::array<std::span<const Row>, 17> k_catalogue{
    k_advice_phrases,   k_bench_phrases,  k_carving_phrases, k_weighing_phrases, k_charts_phrases,
    k_decision_phrases, k_ear_phrases,    k_files_phrases,   k_ledger_phrases,   k_model_phrases,
    k_notices_phrases,  k_plates_phrases, k_shape_phrases,   k_sheet_phrases,    k_walk_phrases,
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
