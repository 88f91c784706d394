#pragma once
#include "ledger/record.hpp"
#include "trends/drift/robust_line.hpp"

#include <optional>

namespace platewright::trends {

/// Temperature (degrees C) and relative humidity (%) of the room.
struct Air {
    bool operator==(const Air&) const = default;
    double temperature_c = 0.0;
    double humidity_pct = 0.0;
};

/// The session's air; nothing where it was not read, or reads as no room's air does.
std::optional<Air> air_of(const ledger::SessionRecord& session);

/// Moisture content, in % of dry mass, at which wood in this air neither takes up water nor gives
/// any off, by Hailwood and Horrobin's two-hydrate isotherm with K, K1, K2, W quadratic in
/// temperature.
/// Source: USDA Forest Products Laboratory, Wood Handbook, FPL-GTR-190 (2010), eq. 4-5, the
/// coefficients for degrees C. Within 0.1 % moisture of the handbook's table from 0 to 50 C.
/// The classic confusion: an equilibrium, which a plate takes hours to a day to reach.
/// In: -30..120 C, 0..100 %. Fails: std::invalid_argument. Threads: pure.
double equilibrium_moisture_pct(const Air& air);

/// The same at a session's air; nothing where that is not known.
std::optional<double> moisture_pct_of(const ledger::SessionRecord& session);

/// How a mode answers to the air, as fractions of its frequency. Bending along the grain moves
/// least, twist and bending across it most.
struct AirResponse {
    Range per_moisture_pct; ///< for one more % of moisture content
    Range per_degree_c;     ///< for one degree C more at the same moisture content
};

/// Computed from the Wood Handbook's slopes (ch. 5, eq. 5-3, tables 5-14 and 5-15): the ends span
/// long-grain bending to twist. A range, not a correction.
inline constexpr AirResponse k_twist_response{{-0.020, -0.017}, {-0.006, -0.003}};
inline constexpr AirResponse k_mixed_response{{-0.015, -0.010}, {-0.004, -0.001}};
inline constexpr AirResponse k_any_response{{-0.020, -0.009}, {-0.006, -0.001}};

/// How a mode of this number answers; of any kind where it bears none.
const AirResponse& response_of(std::optional<int> number);

/// The range in cents within which a change of air alone can have moved a mode, once settled.
Range cents_from_air(const Air& before, const Air& now, const AirResponse& response);

} // namespace platewright::trends
