#include "plate/plan/depth_limit.hpp"
#include "support/catch.hpp"

#include <Eigen/LU>

using namespace platewright;
using namespace platewright::plate;

namespace {

/// Five strokes in a row, each half as deep at its neighbours' middles.
Eigen::MatrixXd in_a_row() {
    Eigen::MatrixXd depth = Eigen::MatrixXd::Identity(5, 5);
    for (Eigen::Index i = 0; i + 1 < 5; ++i)
        depth(i, i + 1) = depth(i + 1, i) = 0.5;
    return depth;
}

const Eigen::VectorXd k_wish = (Eigen::VectorXd(5) << 0.1, 0.5, 0.6, 0.3, 0.1).finished();

/// Nearest to the wish by least squares.
Eigen::VectorXd near_wish(double room_mm, double stroke_mm) {
    return DepthLimit(in_a_row(), Eigen::VectorXd::Constant(5, room_mm), stroke_mm)
        .minimise(Eigen::MatrixXd::Identity(5, 5), k_wish, Eigen::VectorXd::Zero(5));
}

} // namespace

TEST_CASE("strokes with room enough are what was wished, each up to its own most") {
    CHECK((near_wish(2.0, 1.0) - k_wish).cwiseAbs().maxCoeff() < 1e-6);
    CHECK((near_wish(2.0, 0.4) - k_wish.cwiseMin(0.4)).cwiseAbs().maxCoeff() < 1e-6);
}

TEST_CASE("strokes that overlap too deep give way where they do, and no place goes too deep") {
    for (const double room_mm : {0.2, 0.5, 0.7, 0.9}) {
        const Eigen::VectorXd x = near_wish(room_mm, 1.0);
        CAPTURE(room_mm, x.transpose());
        CHECK(x.minCoeff() >= 0.0);
        CHECK((in_a_row() * x).maxCoeff() <= room_mm * (1.0 + 1e-6));
        if (room_mm > 0.5) // and what room there is is used; where it lacks by far, less of it
            CHECK((in_a_row() * x).maxCoeff() > 0.9 * room_mm);
    }
    // With room for all but the deepest place the strokes that do not reach it stay.
    const Eigen::VectorXd x = near_wish(0.9, 1.0);
    CHECK(x[0] == Approx(k_wish[0]).margin(1e-6));
    CHECK(x[4] == Approx(k_wish[4]).margin(1e-6));
    CHECK(x[2] < k_wish[2]);
}

TEST_CASE("where there is no room at all nothing is taken") {
    CHECK(near_wish(0.0, 1.0).maxCoeff() < 1e-6);
}
