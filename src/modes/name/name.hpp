#pragma once
#include "modes/mode.hpp"
#include "modes/name/doubt.hpp"
#include "modes/name/spot_profile.hpp"
#include "modes/subject.hpp"

#include <optional>
#include <span>
#include <vector>

namespace platewright::modes {

/// An earlier session of the same plate, for naming: what its modes were, and how heavy it was,
/// with the water that it would have had in today's air.
struct Earlier {
    std::vector<NamedMode> modes;
    Stage stage = Stage::graduating;
    std::optional<double> mass_g = std::nullopt;
    double log_air = 0; ///< by which today's air alone moves ln of its frequencies
};

struct Naming {
    std::vector<NamedMode> modes; ///< the input, in order, names filled in
    Doubt doubt;                  ///< the greatest
};

/// Gives the names mode 1, 2, 5 (and higher where history knows them) where the evidence allows; of
/// a closed body A0, B1-, B1+ and CBR (rules.hpp).
/// Evidence: range by kind, part and stage (trade-sources; wide priors), order and ratios, damping,
/// level at the spots, and the plate's own earlier sessions. `earlier` newest last.
/// A name is given at confidence ≥ 0.8 and flagged sure at ≥ 0.95. Names by the maker in earlier
/// sessions weigh as certain. `profiles`: of a model of this very plate, where there is one; they
/// take the place of what holds of plates in general. Pure.
Naming name_modes(std::span<const Mode> modes, const Subject& subject,
                  std::span<const Earlier> earlier, std::span<const SpotProfile> profiles = {});

} // namespace platewright::modes
