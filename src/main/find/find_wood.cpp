#include "main/find/find_wood.hpp"

#include <algorithm>
#include <charconv>
#include <fmt/format.h>

namespace platewright::cli {
namespace {

ledger::Id as_id(const std::string& text) {
    ledger::Id id = 0;
    const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), id);
    return error == std::errc{} && end == text.data() + text.size() ? id : 0;
}

base::Fault none_of(const std::vector<ledger::WoodHistory>& stock, const std::string& name) {
    if (stock.empty())
        return {"The ledger holds no wood yet: `platewright wood add` brings it in."};
    std::string known;
    constexpr std::size_t k_shown = 12;
    for (std::size_t i = 0; i < std::min(stock.size(), k_shown); ++i)
        known += (known.empty() ? "“" : ", “") + stock[i].wood.label + "”";
    return {fmt::format("No wood is called “{}”; there are {}{}.", name, known,
                        stock.size() > k_shown ? " and more" : "")};
}

} // namespace

base::Result<ledger::WoodHistory> find_wood(const ledger::Store& store, const std::string& name) {
    const std::vector<ledger::WoodHistory> stock = store.wood_stock();
    const ledger::Id id = as_id(name);
    std::vector<ledger::WoodHistory> found;
    for (const ledger::WoodHistory& one : stock)
        if (one.wood.label == name || (id != 0 && one.wood.id == id))
            found.push_back(one);
    if (found.empty())
        for (const ledger::PlateRecord& plate : store.find_plates(name))
            if (const auto history = store.history(plate.id); history && history->wood)
                found.push_back(*history->wood);
    if (found.size() == 1)
        return found.front();
    if (found.empty())
        return none_of(stock, name);
    std::string several;
    for (const ledger::WoodHistory& one : found)
        several +=
            fmt::format("{}{} (“{}”)", several.empty() ? "" : ", ", one.wood.id, one.wood.label);
    return base::Fault{
        fmt::format("“{}” may mean several woods: name one by its number, {}.", name, several)};
}

} // namespace platewright::cli
