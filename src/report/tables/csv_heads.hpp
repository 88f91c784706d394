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

/// Calls `use` for the columns of a record that tables show as it holds them: numbers of rows and
/// moments are keys.
template <class Record, class Use>
void for_each_shown(const Use& use) {
    ledger::for_each_column<Record>([&](const auto& column) {
        using Field = std::remove_cvref_t<decltype(column.of(std::declval<Record&>()))>;
        if constexpr (!std::is_same_v<Field, ledger::Id> && !std::is_same_v<Field, base::Timestamp>)
            use(column);
    });
}

/// "stage,mass_g,temperature_c,humidity_pct,notes"
template <class Record>
std::string shown_columns() {
    std::string names;
    for_each_shown<Record>([&](const auto& column) {
        names += names.empty() ? "" : ",";
        names += column.name;
    });
    return names;
}

inline const std::array k_heads{
    Head{"plates",
         "kind,wood,density_kg_m3,notes,instrument_notes,sessions,carved_from,body_length_mm",
         Keys::plate},
    Head{"sessions", shown_columns<ledger::SessionRecord>()},
    Head{"modes", "number,named_by_maker,hz,hz_sd,spread_hz,q,q_sd,level_db,taps,analysis"},
    Head{"taps", "tap,at,verdict,spot,peak_dbfs,noise_dbfs,recording,analysis"},
    Head{"partials", "tap,hz,hz_sd,q,q_sd,level_db,level_dbfs,phase_rad"},
    Head{"thickness", shown_columns<plate::ThicknessReading>()},
    Head{"flex", shown_columns<ledger::FlexRecord>()},
    Head{"weighings", "weighing,begun,x_mm,y_mm,place,thing,mass_g,place_sd_mm,number,off_hz,on_hz,"
                      "drift_hz,ln_ratio_sd"},
    Head{"pins", shown_columns<ledger::PinRecord>()},
    Head{"targets", "number,hz", Keys::plate},
    Head{"plans", "made,pass_share,wood_g,model,summary"},
    Head{"plan_modes",
         "made,number,now_hz,want_hz,firmness,pass_hz,pass_hz_sd,after_hz,after_hz_sd"},
    Head{"plan_strokes", "made," + shown_columns<ledger::PlannedStroke>()},
    Head{"references", "label"},
    Head{
        "shapes",
        "length_mm,upper_mm,waist_mm,lower_mm,arch_mm,edge_mm,long_fullness,cross_fullness,species,"
        "pieces,"
        "right_density,right_stiffness,rings_left_deg,rings_right_deg,run_out_deg,upper_eye_x_mm,"
        "upper_eye_y_mm,lower_eye_x_mm,lower_eye_y_mm,"
        "bar_width_mm,bar_height_mm",
        Keys::plate},
    Head{"outlines", shown_columns<plate::Point>(), Keys::plate},
    Head{"f_holes", "hole,x_mm,y_mm", Keys::plate},
    Head{"heights", shown_columns<plate::HeightReading>(), Keys::plate},
    Head{"woods", "wood,wood_id,species,origin,notes,created", Keys::none},
    Head{"wood_tests", "wood,wood_id,test_id,at," + shown_columns<ledger::WoodTestRecord>(),
         Keys::none},
    Head{"wood_modes", "wood,wood_id,test_id,motion,hz,hz_sd,q,q_sd,taps,analysis", Keys::none},
};

} // namespace platewright::report
