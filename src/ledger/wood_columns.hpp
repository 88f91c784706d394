#pragma once
#include "ledger/columns.hpp"

namespace platewright::ledger {

// Columns of what is kept of the wood in stock (wood_record.hpp).

template <>
struct TableOf<WoodRecord> {
    using R = WoodRecord;
    static constexpr std::string_view name = "wood";
    static constexpr std::tuple columns{column("label", &R::label), column("species", &R::species),
                                        column("origin", &R::origin), column("notes", &R::notes),
                                        column(Role::made, "created_ms", &R::created)};
};

template <>
struct TableOf<WoodTestRecord> {
    using R = WoodTestRecord;
    static constexpr std::string_view name = "wood_test";
    static constexpr std::tuple columns{column("wood", &R::wood),
                                        column("at_ms", &R::at),
                                        column("piece", &R::piece),
                                        column("along_mm", &R::along_mm),
                                        column("across_mm", &R::across_mm),
                                        column("thickness_mm", &R::thickness_mm),
                                        column("thin_edge_mm", &R::thin_edge_mm),
                                        column("thickness_sd_mm", &R::thickness_sd_mm),
                                        column("mass_g", &R::mass_g),
                                        column("temperature_c", &R::temperature_c),
                                        column("humidity_pct", &R::humidity_pct),
                                        column("moisture_pct", &R::moisture_pct),
                                        column("notes", &R::notes)};
};

template <>
struct TableOf<WoodModeRecord> {
    using R = WoodModeRecord;
    static constexpr std::string_view name = "wood_mode";
    static constexpr std::tuple columns{column("motion", &R::motion),
                                        column("frequency_hz", &R::frequency_hz),
                                        column("frequency_sd_hz", &R::frequency_sd_hz),
                                        column("q", &R::q),
                                        column("q_sd", &R::q_sd),
                                        column("taps", &R::taps),
                                        column("analysis_version", &R::analysis_version)};
};

template <>
struct TableOf<TargetRecord> {
    using R = TargetRecord;
    static constexpr std::string_view name = "target";
    static constexpr std::tuple columns{column("number", &R::number),
                                        column("frequency_hz", &R::frequency_hz)};
};

} // namespace platewright::ledger
