#pragma once
/// Which of a model's modes the trade calls 1 (twist), 2 (X) and 5 (ring): by shape, not by order.

#include "plate/plate_model.hpp"

#include <array>
#include <string>

namespace platewright::plate {

/// One of the trade's names found among the modes.
struct ShapeName {
    int number = 0;        // 1, 2 or 5
    int index = -1;        // which mode of the model; -1: none is like it
    double likeness = 0.0; // share of the shape's motion that is like the name's pattern, 0..1
    bool sure = false;
    std::string doubt; // why it is not sure; empty where it is
};

/// How each mode moves.
struct ShapeFacts {
    double symmetry = 0.0; // 1: left and right alike; -1: opposite
    double twist = 0.0;    // share in the pattern x*y
    double bowl = 0.0;     // share in the span of x^2, y^2 and a function of the edge
    double ring = 0.0;     // part of the edge that moves against the centre, 0..1
};

/// Looks at modes in z, rigid part removed, weighted by mass. Mode 1: of the antisymmetric modes
/// the one with the greatest twist; modes 2 and 5: the two symmetric modes with the greatest bowl,
/// the lower is 2. Doubtful where a mode mixes left-right symmetric and antisymmetric motion, where
/// another mode is nearly as like, or where the ring does not close.
/// Cost: under 1 ms. Threads: pure.
class ShapeJudge {
public:
    explicit ShapeJudge(const PlateModel& model);

    std::vector<ShapeFacts> facts(const Eigen::MatrixXd& shapes) const;
    std::array<ShapeName, 3> names(const Eigen::MatrixXd& shapes) const;

private:
    void find_mirrors(const PlanMesh& mesh, double middle_mm);
    Eigen::VectorXd motion(const Eigen::MatrixXd& shapes, Eigen::Index mode) const;

    std::vector<MeshPlace> mirrors_; // where each node's mirror image lies
    Eigen::VectorXd weight_;         // share of the plate's area a node
    Eigen::MatrixXd rigid_;          // 1, x, y; orthonormal by weight
    Eigen::VectorXd twist_;          // x*y, rigid part removed, unit length
    Eigen::MatrixXd bowl_;           // orthonormal
    std::vector<int> edge_;          // nodes of the outline
    std::vector<int> centre_;        // nodes near the middle
};

/// Pairs each mode of `before` with its like in `after` by the modal assurance criterion in the
/// inner product of nodal areas; -1 where nothing reaches `least`.
std::vector<int> follow(const PlateModel& model, const Eigen::MatrixXd& before,
                        const Eigen::MatrixXd& after, double least = 0.5);

} // namespace platewright::plate
