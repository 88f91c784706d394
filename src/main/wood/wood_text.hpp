#pragma once
#include "ledger/wood_record.hpp"
#include "main/json.hpp"
#include "trends/wood/wood_choice.hpp"

#include <span>
#include <string>

namespace platewright::cli {

/// A wood with the figures its tests tell.
struct ReadWood {
    ledger::WoodHistory history;
    trends::WoodFigures figures;
};

Json wood_json(const ReadWood& wood);
Json to_json(const trends::Likeness& likeness, const ReadWood& wood);
Json to_json(const trends::ThicknessChoice& choice);

/// A line a wood: what a maker chooses by.
std::string stock_table(std::span<const ReadWood> stock);
/// All that is known of one.
std::string wood_page(const ReadWood& wood);
std::string likeness_table(std::span<const trends::Likeness> list, std::span<const ReadWood> stock);
std::string thickness_table(const trends::ThicknessChoice& choice);

} // namespace platewright::cli
