#pragma once
/// Stiffness and mass of an assembled shell, six freedoms a node.

#include "plate/mesh/delaunay.hpp"

#include <Eigen/SparseCore>

#include <span>

namespace platewright::plate {

using SparseMatrix = Eigen::SparseMatrix<double>;

struct Assembled {
    SparseMatrix stiffness; // N/m and the like, SI; 6 rows a node, both triangles
    SparseMatrix node_mass; // kg; a row a node, for x, y and z alike: rotations carry none
};

/// M x. In: columns of 6 freedoms a node.
Eigen::MatrixXd by_mass(const SparseMatrix& node_mass, const Eigen::MatrixXd& x);

/// The matrices of a mesh before anything is added: which entries there are, and the order in which
/// its freedoms are best eliminated (approximate minimum degree: P. R. Amestoy, T. A. Davis, I. S.
/// Duff, SIAM J. Matrix Anal. Appl. 17, 1996). Depends on the mesh alone; made once.
class ShellPattern {
public:
    ShellPattern(int nodes, std::span<const Triangle> triangles);

    Assembled zero() const { return zero_; }
    /// Adds what one facet's corners a and b do to each other.
    void add(Assembled& to, int a, int b, const Eigen::Matrix<double, 6, 6>& stiffness,
             double mass_kg) const;
    using Order = Eigen::PermutationMatrix<Eigen::Dynamic, Eigen::Dynamic, int>;
    const Order& order() const { return order_; }

private:
    Assembled zero_;
    Order order_;
};

} // namespace platewright::plate
