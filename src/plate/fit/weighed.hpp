#pragma once
/// A small mass laid on a plate: how far each mode falls, by what the place weighs in it.

#include "plate/plan/sensitivity.hpp"

#include <array>
#include <span>
#include <vector>

namespace platewright::plate {

/// A small compact mass on the plate.
struct LaidMass {
    bool operator==(const LaidMass&) const = default;
    Point at;
    double mass_g = 0.0;
    double place_sd_mm = 2.0; // each way, of where it truly lies
};

inline constexpr std::size_t k_round = 8; // places looked at round one

/// A mode of a plate with a mass on it.
struct WeighedMode {
    int index = -1;           // of the mode without the mass
    double log_ratio = 0.0;   // ln(frequency with / without), never above 0
    double weight_per_kg = 0; // |a|^2 at the place: how much of the mode's motion is there
    std::array<double, k_round> elsewhere{}; // what log_ratio would be more if the mass lay as far
                                             // off as it may; the modes of a mass are off together
    // Of ln(frequency with): per WoodUnknown, per unit of ln, per mm, per unknown of the arch.
    WoodChange by_wood = WoodChange::Zero();
    double by_density = 0.0;
    double by_thickness_per_mm = 0.0;
    ArchShift by_arch = ArchShift::Zero();
};

/// What the model's own shape of a mode leaves open of log_ratio, as a standard deviation. CalculiX
/// with a gram at ten places of a back and of a top (docs/plate-model.md): modes 1 and 2 by 1 % of
/// their fall, mode 5, whose nodal line lies near the edge, by 7 % of what it falls in the mean
/// over the plate.
double weighed_model_sd(int number, double log_ratio, double mass_g, double plate_g);

/// The modes with these indices under each mass, one mass at a time: solved anew, not by first
/// order, which is off by hundredths for a gram and by tenths for five. Ritz's method over the
/// plate's own modes, its rigid motions and how the place gives way, in which the mass is a change
/// of rank three of M; at the place itself, not at a node. To first order ln(f/f0) = -m |a|^2 / 2,
/// the mass-change way of scaling mode shapes (E. Parloo et al., Mech. Syst. Signal Process. 16,
/// 2002, 757; R. Brincker, P. Andersen, IMAC 21, 2003, both from memory). Slopes as in
/// sensitivity.hpp.
/// In: modes of this very plate in the model's air, at least ten, and its thickness as solved. Out:
/// a list a mass; a mode that the mass mixes beyond recognition is left out.
/// Cost: 20 ms and 3 ms a mass; with slopes 30 ms more for every sixteen modes. Threads: pure.
std::vector<std::vector<WeighedMode>>
weighed_modes(const PlateModel& model, const Eigen::VectorXd& thickness_mm, const ArchShift& arch,
              const PlateWood& wood, const ShellModes& modes, std::span<const LaidMass> masses,
              std::span<const int> indices, bool with_slopes);

} // namespace platewright::plate
