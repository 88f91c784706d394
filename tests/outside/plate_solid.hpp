#pragma once
/// The same plate in quadratic solids, written for CalculiX (ccx), a general-purpose
/// finite-element program packaged by Debian: an independent reference for the shell model.

#include "plate/plate_model.hpp"
#include "plate/shell/shape_names.hpp"

#include <functional>
#include <string>
#include <vector>

namespace platewright::outside {

/// A body between two heights over a region of the plane.
struct Solid {
    plate::PlanMesh mesh; // each triangle is cut into three quadrilaterals
    std::function<double(plate::Point)> top_mm;
    std::function<double(plate::Point)> bottom_mm;
    std::function<bool(plate::Point)> has_bar;       // by the middle of a triangle; may be empty
    std::function<double(plate::Point)> bar_foot_mm; // the bar reaches from bottom down to here
    plate::PlateWood wood;                           // by the middle of each element
    int layers = 2;
    struct Mass {
        std::size_t point; // of the mesh, on the outer surface
        double mass_g;
    };
    std::vector<Mass> masses = {};
};

struct SolidModes {
    std::vector<double> frequency_hz; // above the six rigid ones
    double mass_g = 0.0;
    double seconds = 0.0; // of processor time that ccx took, one thread
    /// Displacement of the outer surface in z at the mesh's points, a row a mode, if asked for.
    std::vector<std::vector<double>> top_motion;
};

/// True if ccx can be run.
bool has_calculix();

/// Writes the input (C3D20R, engineering constants, one orientation for each half), runs ccx in a
/// folder of its own below `folder`, and reads the eigenvalues. Throws std::runtime_error if ccx
/// fails.
SolidModes solve_solid(const Solid& solid, int modes, const std::string& folder,
                       bool with_shapes = false);

/// A solid's modes as the model's: the motion of its own outer surface (top_motion) in z, carried
/// from the mesh it was made from to the nodes of the model.
Eigen::MatrixXd solid_shapes(const plate::PlateModel& model, const plate::PlanMesh& mesh,
                             const SolidModes& modes);

/// Names a solid's modes by the motion of its own outer surface (top_motion), carried from the mesh
/// it was made from to the nodes of the model that judges.
std::array<plate::ShapeName, 3> solid_names(const plate::PlateModel& model,
                                            const plate::PlanMesh& mesh, const SolidModes& modes);

} // namespace platewright::outside
