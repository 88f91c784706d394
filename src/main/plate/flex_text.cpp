#include "main/plate/flex_text.hpp"

#include "base/interval.hpp"
#include "base/text.hpp"
#include "main/console.hpp"

#include <fmt/format.h>

namespace platewright::cli {

using base::fixed;

Json flexes_json(const std::vector<trends::FlexCheck>& checks) {
    Json flexes = Json::array();
    for (const trends::FlexCheck& f : checks)
        flexes.push_back({{"id", f.record.id},
                          {"kind", ledger::to_word(f.record.kind)},
                          {"span_mm", f.record.span_mm},
                          {"load_g", f.record.load_g},
                          {"measured_mm", f.record.deflection_mm},
                          {"model_mm", f.model_mm},
                          {"model_mm_sd", f.model_sd_mm},
                          {"deviations", f.deviations}});
    return flexes;
}

void say_flexes(const std::vector<trends::FlexCheck>& checks) {
    Table table({"flex", "span mm", "load g", "measured mm", "model mm"});
    for (const trends::FlexCheck& f : checks)
        table.row({std::string(ledger::to_word(f.record.kind)), fixed(f.record.span_mm, 0),
                   fixed(f.record.load_g, 0), fixed(f.record.deflection_mm, 2),
                   fmt::format("{} ± {}", fixed(f.model_mm, 2),
                               fixed(base::plus_minus(f.model_sd_mm), 2))});
    if (!table.empty())
        say("\n" + table.text());
}

} // namespace platewright::cli
