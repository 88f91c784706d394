#pragma once
/// The plate as a shell of flat facets: assembly and solve.

#include "plate/element/facet.hpp"
#include "plate/mesh/mesh.hpp"
#include "plate/shell/shell_matrices.hpp"

#include <span>
#include <vector>

namespace platewright::plate {

/// What the shell is made of at each node of its mesh.
struct ShellSurface {
    Eigen::VectorXd outside_mm;   // height of the outer surface
    Eigen::VectorXd normal_z;     // z of the outer surface's unit normal, in (0, 1]
    Eigen::VectorXd thickness_mm; // as a caliper reads it, across the surface
};

/// Wood of the left and the right half (x < 0, x >= 0), and of the bass bar.
struct ShellWood {
    Wood left;
    Wood right;
    Wood bar = {};
};

/// A bass bar standing under nodes of the mesh.
struct ShellBar {
    std::vector<int> nodes; // in order along the bar
    std::vector<double> height_mm;
    double width_mm = 0.0;
};

/// Free vibrations.
struct ShellModes {
    Eigen::VectorXd frequency_hz; // ascending, rigid motions left out
    Eigen::MatrixXd shapes;       // 6 freedoms a node, mass-normalised in kg, air included
    Eigen::MatrixXd rigid;        // the six rigid motions, mass-normalised without air
    Eigen::RowVectorXd air_share; // of each mode's modal mass; zero in a vacuum
    double rigid_hz = 0.0;        // greatest frequency among the six rigid motions: rounding only
};

/// lambda = (2 pi f)^2 in (rad/s)^2, and back; what rounding made negative is none.
Eigen::VectorXd lambda_of(const Eigen::VectorXd& frequency_hz);
Eigen::VectorXd frequency_of(const Eigen::VectorXd& lambda);

/// One facet, ready to be computed.
struct FacetInput {
    Triangle nodes{};
    Corners corners;        // m
    Eigen::Vector3d drop_m; // z of each corner less z of the node that carries it
    Eigen::Vector3d thickness_m;
    EdgeShare edge;
    /// joint: a facet that lies across the middle, half of either wood
    enum class Wooded { left, right, bar, joint } wood = Wooded::left;
};

/// A mesh with what depends on it alone; made once, used for many solves. The bar is two rows of
/// facets on edge, hung from the plate's inner surface; their lower ends are nodes of their own,
/// numbered after the mesh's.
/// Cost of solve: see docs/plate-model.md. Threads: const is pure.
class Shell {
public:
    explicit Shell(PlanMesh mesh, ShellBar bar = {});

    const PlanMesh& mesh() const { return mesh_; }
    const ShellBar& bar() const { return bar_; }
    std::size_t facets() const { return facets_.size(); }
    /// The mesh node that carries a node: a foot of the bar hangs under one.
    int carrier(int node) const {
        const int plate_nodes = static_cast<int>(mesh_.points.size());
        return node < plate_nodes ? node : bar_.nodes[static_cast<std::size_t>(node - plate_nodes)];
    }

    /// The facet with this number on this surface. The first facets are the mesh's triangles.
    FacetInput facet(std::size_t number, const ShellSurface& surface) const;

    Assembled assemble(const ShellSurface& surface, const ShellWood& wood) const;

    /// The lowest `count` modes. start: earlier shapes of nearly the same plate, or empty.
    /// Throws std::domain_error if the stiffness is not positive definite (impossible wood), or the
    /// modes don't settle.
    ShellModes solve(const ShellSurface& surface, const ShellWood& wood, int count,
                     const Eigen::MatrixXd& start = {}) const;

    /// Static deflection under a load in z, with places held in z (stiff springs); motion along the
    /// plane is free. Out: displacements of all nodes (m). The supports must hold the plate: three
    /// or more, not in a line.
    Eigen::VectorXd deflect(const ShellSurface& surface, const ShellWood& wood,
                            std::span<const MeshPlace> supports, const MeshPlace& load,
                            double force_n) const;

    /// How the free plate gives way to loads while it turns and moves with them: one more direction
    /// for what a mass at a place does to its modes (attachment modes; R. R. Craig, Structural
    /// Dynamics, 1981, from memory). A column a load.
    struct Yielding {
        Eigen::MatrixXd shapes, by_stiffness, by_mass; // x, K x, M x
    };
    /// loads: 6 freedoms a node, bar's too.
    Yielding yield(const ShellSurface& surface, const ShellWood& wood,
                   const Eigen::MatrixXd& loads) const;

private:
    struct Place {
        Triangle nodes{};
        EdgeShare edge;
        FacetInput::Wooded wood = FacetInput::Wooded::left;
    };
    struct Motions {
        Eigen::MatrixXd rigid, guess;
    };
    void add_bar();
    Eigen::Vector3d middle_m(int node, const ShellSurface& surface) const;
    Motions motions(const ShellSurface& surface) const;

    PlanMesh mesh_;
    ShellBar bar_;
    std::vector<Point> node_points_; // of mesh and bar
    std::vector<Place> facets_;
    ShellPattern pattern_;
};

/// Compliances and densities in the order of FacetInput::Wooded.
class WoodTable {
public:
    explicit WoodTable(const ShellWood& wood);
    Facet facet(const FacetInput& input) const;
    double mass_kg(const FacetInput& input) const;

private:
    std::array<Compliance, 4> compliance_;
    std::array<double, 4> density_;
};

/// Motion of a facet's corners from the nodes' freedoms; sixteen modes at most.
FacetMotions facet_motion(const FacetInput& input, const Eigen::MatrixXd& shapes);

} // namespace platewright::plate
