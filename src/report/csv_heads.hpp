#pragma once
#include <array>
#include <cstddef>
#include <string_view>

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
    heights,
    woods,
    wood_tests,
    wood_modes
};

enum class Keys { plate, session, none };
inline constexpr std::string_view k_plate_keys = "instrument,plate,part,plate_id";
inline constexpr std::string_view k_session_keys = "session,session_id";
struct Head {
    std::string_view name, columns; // after the keys
    Keys keys = Keys::session;
};
inline constexpr std::array k_heads{
    Head{"plates",
         "kind,wood,density_kg_m3,notes,instrument_notes,sessions,carved_from,body_length_mm",
         Keys::plate},
    Head{"sessions", "stage,mass_g,temperature_c,humidity_pct,notes"},
    Head{"modes", "number,named_by_maker,hz,hz_sd,spread_hz,q,q_sd,level_db,taps,analysis"},
    Head{"taps", "tap,at,verdict,spot,peak_dbfs,noise_dbfs,recording,analysis"},
    Head{"partials", "tap,hz,hz_sd,q,q_sd,level_db,level_dbfs,phase_rad"},
    Head{"thickness", "x_mm,y_mm,thickness_mm,name"},
    Head{"flex", "kind,span_mm,load_g,deflection_mm"},
    Head{"weighings", "weighing,begun,x_mm,y_mm,place,thing,mass_g,place_sd_mm,number,off_hz,on_hz,"
                      "drift_hz,ln_ratio_sd"},
    Head{"pins", "x_mm,y_mm,text"},
    Head{"targets", "number,hz", Keys::plate},
    Head{"plans", "made,pass_share,wood_g,model,summary"},
    Head{"plan_modes",
         "made,number,now_hz,want_hz,firmness,pass_hz,pass_hz_sd,after_hz,after_hz_sd"},
    Head{"plan_strokes", "made,x_mm,y_mm,mirrored,depth_mm"},
    Head{"references", "label"},
    Head{
        "shapes",
        "length_mm,upper_mm,waist_mm,lower_mm,arch_mm,edge_mm,long_fullness,cross_fullness,species,"
        "pieces,"
        "right_density,right_stiffness,upper_eye_x_mm,upper_eye_y_mm,lower_eye_x_mm,lower_eye_y_mm,"
        "bar_width_mm,bar_height_mm",
        Keys::plate},
    Head{"outlines", "x_mm,y_mm", Keys::plate},
    Head{"heights", "x_mm,y_mm,height_mm", Keys::plate},
    Head{"woods", "wood,wood_id,species,origin,notes,created", Keys::none},
    Head{"wood_tests",
         "wood,wood_id,test_id,at,piece,along_mm,across_mm,thickness_mm,thin_edge_mm,thickness_sd_"
         "mm,mass_g,"
         "temperature_c,humidity_pct,moisture_pct,notes",
         Keys::none},
    Head{"wood_modes", "wood,wood_id,test_id,motion,hz,hz_sd,q,q_sd,taps,analysis", Keys::none},
};

} // namespace platewright::report
