#pragma once
/// Symmetric sparse matrices of 6 x 6 blocks, one block a pair of neighbouring mesh nodes.

#include "plate/mesh/delaunay.hpp"

#include <Eigen/Core>

#include <span>
#include <utility>
#include <vector>

namespace platewright::plate {

using Matrix6 = Eigen::Matrix<double, 6, 6, Eigen::DontAlign>;

/// Which nodes are neighbours: for node i the neighbours (itself too) in ascending order are
/// neighbours[start[i] .. start[i + 1]).
struct NodeGraph {
    std::vector<int> start;
    std::vector<int> neighbours;

    int nodes() const { return static_cast<int>(start.size()) - 1; }
    /// Place of the pair in `neighbours`; throws std::invalid_argument if they are no neighbours.
    std::size_t place(int i, int j) const;
};

/// Graph of the nodes joined by triangles or by further pairs.
NodeGraph graph_of(int nodes, std::span<const Triangle> triangles,
                   std::span<const std::pair<int, int>> pairs = {});

/// A block for every entry of the graph (both triangles of the symmetric matrix are kept).
struct BlockMatrix {
    std::vector<Matrix6> blocks;
};

/// A mass matrix that weighs x, y and z alike: one number for every entry of the graph.
struct NodeMass {
    std::vector<double> kg;
};

/// y = K x. In: columns of 6 * nodes.
Eigen::MatrixXd multiply(const NodeGraph& graph, const BlockMatrix& k, const Eigen::MatrixXd& x);

/// y = M x; rotations get zero.
Eigen::MatrixXd multiply(const NodeGraph& graph, const NodeMass& m, const Eigen::MatrixXd& x);

} // namespace platewright::plate
