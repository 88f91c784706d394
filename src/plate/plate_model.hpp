#pragma once
/// A whole plate as a model: outline, arching, fittings and wood, and its free vibrations for any
/// thickness.

#include "plate/shape/arching.hpp"
#include "plate/shape/fittings.hpp"
#include "plate/shell/air_load.hpp"
#include "plate/shell/shell.hpp"

#include <functional>
#include <memory>
#include <optional>

namespace platewright::plate {

/// Everything of a plate but its thickness and its wood.
struct PlateForm {
    Outline outline;
    ArchingProfile arching;
    std::vector<HeightReading> heights; // measured heights of the outside, where there are any
    std::vector<Loop> f_holes;          // cut out, right then left; none of a back
    std::optional<BassBar> bar;
};

/// Wood of the two halves; a one-piece plate has the same left and right.
struct PlateWood {
    Wood left;
    Wood right;
    /// Where a fit moves the right half's rings, the left's go the other way.
    bool has_mirrored_rings = false;
    /// Opened like a book, which turns one half over about the joint: its rings then lean to the
    /// same side as the other's, and its fibres run out the other way. False: one piece.
    bool is_book_matched = true;
};

/// A plate ready to be solved for any thickness and wood. Thickness is given at the nodes of the
/// mesh (thickness_at). Threads: const is pure.
class PlateModel {
public:
    static constexpr double k_fineness = 35.0; // about 650 nodes

    /// fineness: triangles along the length of the body. air_kg_m3: density of the air that the
    /// plate hangs in; 0: a vacuum.
    explicit PlateModel(const PlateForm& form, double fineness = k_fineness,
                        double air_kg_m3 = 0.0);

    const PlateForm& form() const { return form_; }
    const Arching& arching() const { return arching_; }
    const Shell& shell() const { return shell_; }
    std::size_t nodes() const { return shell_.mesh().points.size(); }
    std::span<const Point> points() const { return shell_.mesh().points; }

    Eigen::VectorXd thickness_at(const std::function<double(Point)>& thickness_mm) const;
    /// arch: how the outer surface departs from the most probable one.
    ShellSurface surface(const Eigen::VectorXd& thickness_mm,
                         const ArchShift& arch = ArchShift::Zero()) const;
    /// Height of the outer surface at the nodes by each unknown of the arch: a column each.
    Eigen::MatrixXd arch_slopes(const ArchShift& arch) const { return places_.slopes(arch); }
    ShellWood shell_wood(const PlateWood& wood) const;

    /// Free vibrations in the model's air, whose inertia is added within the modes asked for: what
    /// it would mix in of higher ones is less than a ten-thousandth of a frequency.
    ShellModes solve(const ShellSurface& surface, const PlateWood& wood, int count,
                     const Eigen::MatrixXd& start = {}) const;
    ShellModes solve(const Eigen::VectorXd& thickness_mm, const PlateWood& wood, int count,
                     const Eigen::MatrixXd& start = {}) const {
        return solve(surface(thickness_mm), wood, count, start);
    }
    /// Inertia of the model's air between each two motions (kg), 6 freedoms a node; zero in a
    /// vacuum.
    Eigen::MatrixXd air_kg(const Eigen::MatrixXd& motions) const;
    /// Mass in g of the plate with all its fittings.
    double mass_g(const Eigen::VectorXd& thickness_mm, const PlateWood& wood) const;
    /// Wood that goes with a millimetre off each node (g/mm); halves of unlike density as one.
    Eigen::VectorXd wood_g_per_mm(const PlateWood& wood) const;
    /// Area of plate each node stands for, in plan (mm^2); the sum is the plate's.
    const Eigen::VectorXd& node_area_mm2() const { return node_area_mm2_; }
    /// Surface area over plan area at each node: wood taken off is removal * area * stretch.
    const Eigen::VectorXd& stretch() const { return stretch_; }

private:
    PlateForm form_;
    Arching arching_;
    Shell shell_;
    ArchPlaces places_;
    Eigen::VectorXd normal_z_, node_area_mm2_, stretch_;
    double air_kg_m3_ = 0.0;
    std::optional<AirLoad> air_;
};

} // namespace platewright::plate
