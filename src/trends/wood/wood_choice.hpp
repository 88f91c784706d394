#pragma once
#include "plate/wood/wood.hpp"
#include "trends/wood/wood_figures.hpp"
#include "wording/say.hpp"

#include <array>
#include <optional>
#include <span>
#include <string_view>
#include <vector>

namespace platewright::trends {

/// Each figure of a wood, said once: what JSON calls it, and people; its digits; the handbook's;
/// and, of those that tell one tree from another, what that is called and how far its logarithm
/// spreads within a species.
struct WoodConstant {
    std::string_view word;
    wording::Phrase text;
    std::optional<Figure> WoodFigures::*of;
    int decimals;
    double plate::Wood::*handbook = nullptr;
    std::string_view compared = {};
    wording::Phrase compared_text = "";
    double spread = 0;
};
inline constexpr std::array k_wood_constants{
    WoodConstant{"density_kg_m3", wording::Phrase("density, kg/m³"), &WoodFigures::density_kg_m3, 0,
                 &plate::Wood::density_kg_m3, "density", wording::Phrase("density"), 0.10},
    WoodConstant{"e_l_gpa", wording::Phrase("stiffness along the grain, GPa"),
                 &WoodFigures::e_l_gpa, 2, &plate::Wood::e_l_gpa, "E along",
                 wording::Phrase("E along"), 0.20},
    WoodConstant{"e_r_gpa", wording::Phrase("stiffness across, GPa"), &WoodFigures::e_r_gpa, 2,
                 &plate::Wood::e_r_gpa, "E across", wording::Phrase("E across"), 0.20},
    WoodConstant{"g_lr_gpa", wording::Phrase("shear stiffness, GPa"), &WoodFigures::g_lr_gpa, 2,
                 &plate::Wood::g_lr_gpa, "G", wording::Phrase("shear, G"), 0.20},
    WoodConstant{"sound_l_m_s", wording::Phrase("speed of sound along, m/s"),
                 &WoodFigures::sound_l_m_s, 0},
    WoodConstant{"sound_r_m_s", wording::Phrase("speed of sound across, m/s"),
                 &WoodFigures::sound_r_m_s, 0},
    WoodConstant{"radiation", wording::Phrase("radiation ratio, m⁴/(kg s)"),
                 &WoodFigures::radiation, 1},
    WoodConstant{"q_along", wording::Phrase("Q of bending along"), &WoodFigures::q_along, 0,
                 nullptr, "Q along", wording::Phrase("Q along"), 0.25},
    WoodConstant{"q_across", wording::Phrase("Q of bending across"), &WoodFigures::q_across, 0,
                 nullptr, "Q across", wording::Phrase("Q across"), 0.25},
    WoodConstant{"q_twist", wording::Phrase("Q of the twist"), &WoodFigures::q_twist, 0},
};

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
/// Each of them, said once.
struct ChosenThickness {
    std::string_view word; ///< of JSON
    wording::Phrase text;
    std::optional<Figure> ThicknessChoice::*mm;
};
inline constexpr std::array k_chosen_thicknesses{
    ChosenThickness{"stiff_along_mm", wording::Phrase("as stiff along the grain"),
                    &ThicknessChoice::stiff_along_mm},
    ChosenThickness{"stiff_across_mm", wording::Phrase("as stiff across"),
                    &ThicknessChoice::stiff_across_mm},
    ChosenThickness{"stiff_mm", wording::Phrase("both in the mean"), &ThicknessChoice::stiff_mm},
    ChosenThickness{"tuned_mm", wording::Phrase("a flat plate's tap tone"),
                    &ThicknessChoice::tuned_mm},
    ChosenThickness{"heavy_mm", wording::Phrase("as heavy"), &ThicknessChoice::heavy_mm},
};
ThicknessChoice thickness_for(const WoodFigures& wood, const WoodFigures& good, double good_mm);

} // namespace platewright::trends
