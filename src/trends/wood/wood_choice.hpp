#pragma once
#include "trends/wood/wood_figures.hpp"

#include <optional>
#include <span>
#include <string_view>
#include <vector>

namespace platewright::trends {

/// One figure of a wood beside another's.
struct ComparedFigure {
    std::string_view what; ///< "density", "E along", …
    std::string_view text; ///< the same in the language of now
    double ratio = 1;      ///< of the other's
    double deviations = 0; ///< ln ratio over what trees of a species spread, and the measuring
};

/// How near a wood comes to another.
struct Likeness {
    std::size_t index = 0; ///< into the stock
    double distance = 0; ///< root mean square of the deviations; about 1.4 for two trees by chance
    std::vector<ComparedFigure> figures;
};

/// The stock by its nearness to `good`: density, E along and across, G, Q along and across, as far
/// as both have them. Woods that share less than density and E along with it are left out. The
/// spread of trees within a species: 10 % of density, 20 % of constants, 25 % of Q (common
/// practice, no source; docs/sources.md).
std::vector<Likeness> nearest(std::span<const WoodFigures> stock, const WoodFigures& good);

/// How thick a plate of one wood must be to be like one of another wood and thickness, and what it
/// would weigh of the other's mass (shares). Same shape and arching taken for granted.
struct ThicknessChoice {
    std::optional<Figure> stiff_along_mm;  ///< same bending stiffness along: (E0/E)^(1/3)
    std::optional<Figure> stiff_across_mm; ///< and across
    std::optional<Figure> stiff_mm;        ///< both in the mean; along alone where that is all
    std::optional<Figure> heavy_mm;        ///< same mass: rho0/rho
    std::optional<Figure> tuned_mm;        ///< same tap tone of a flat plate: c0/c, in the mean
    std::optional<double> mass_share_when_stiff; ///< mass of the plate of stiff_mm over the other's
};
ThicknessChoice thickness_for(const WoodFigures& wood, const WoodFigures& good, double good_mm);

} // namespace platewright::trends
