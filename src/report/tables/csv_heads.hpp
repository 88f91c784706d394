#pragma once
#include "ledger/shape_columns.hpp"
#include "ledger/wood_columns.hpp"

#include <array>
#include <cstddef>
#include <string>
#include <string_view>
#include <type_traits>
#include <utility>

namespace platewright::report {

// The tables of csv_tables.hpp and their columns, in one order.

enum Table : std::size_t {
    plates,
    sessions,
    modes_,
    taps_,
    partials,
    thickness,
    flex,
    weighings,
    pins,
    targets,
    plans,
    plan_modes,
    plan_strokes,
    references,
    shapes,
    outlines,
    f_holes,
    heights,
    woods,
    wood_tests,
    wood_modes
};

enum class Keys { plate, session, none };
inline constexpr std::string_view k_plate_keys = "instrument,plate,part,plate_id";
inline constexpr std::string_view k_session_keys = "session,session_id";
struct Head {
    std::string_view name;
    std::string columns; // after the keys
    Keys keys = Keys::session;
};

/// Calls `use` for what tables show of a record; moments are keys.
template <class Record, class Use>
void for_each_cell(const Use& use) {
    ledger::for_each_shown<Record>([&](std::string_view name, const auto& column) {
        using Field = std::remove_cvref_t<decltype(column.of(std::declval<Record&>()))>;
        if constexpr (!std::is_same_v<Field, base::Timestamp>)
            use(name, column);
    });
}

/// "stage,mass_g,temperature_c,humidity_pct,notes"
template <class Record>
std::string columns_of() {
    std::string names;
    for_each_cell<Record>([&](std::string_view name, const auto&) {
        names += names.empty() ? "" : ",";
        names += name;
    });
    return names;
}

inline const std::array k_heads{
    Head{"plates",
         "kind,wood,density_kg_m3,notes,instrument_notes,sessions,carved_from,body_length_mm",
         Keys::plate},
    Head{"sessions", columns_of<ledger::SessionRecord>()},
    Head{"modes", "number,named_by_maker," + columns_of<modes::Mode>() + ",analysis"},
    Head{"taps", "tap,at,verdict,spot,peak_dbfs,noise_dbfs,recording,analysis"},
    Head{"partials", "tap," + columns_of<modes::Partial>()},
    Head{"thickness", columns_of<plate::ThicknessReading>()},
    Head{"flex", columns_of<ledger::FlexRecord>()},
    Head{"weighings", "weighing,begun," + columns_of<ledger::WeighingRecord>() +
                          ",number,off_hz,on_hz,drift_hz,ln_ratio_sd"},
    Head{"pins", columns_of<ledger::PinRecord>()},
    Head{"targets", columns_of<ledger::TargetRecord>(), Keys::plate},
    Head{"plans", "made," + columns_of<ledger::PlanRecord>()},
    Head{"plan_modes", "made," + columns_of<plate::PlanOutcome>()},
    Head{"plan_strokes", "made," + columns_of<plate::Stroke>()},
    Head{"references", "label"},
    Head{"shapes",
         columns_of<ledger::FormRecord>() + ",upper_eye_x_mm,upper_eye_y_mm,lower_eye_x_mm,"
                                            "lower_eye_y_mm,bar_width_mm,bar_height_mm",
         Keys::plate},
    Head{"outlines", columns_of<plate::Point>(), Keys::plate},
    Head{"f_holes", "hole,x_mm,y_mm", Keys::plate},
    Head{"heights", columns_of<plate::HeightReading>(), Keys::plate},
    Head{"woods", "wood,wood_id,species,origin,notes,created", Keys::none},
    Head{"wood_tests", "wood,wood_id,test_id,at," + columns_of<ledger::WoodTestRecord>(),
         Keys::none},
    Head{"wood_modes", "wood,wood_id,test_id," + columns_of<ledger::WoodModeRecord>(), Keys::none},
};

} // namespace platewright::report
