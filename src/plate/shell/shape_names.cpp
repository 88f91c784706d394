#include "plate/shell/shape_names.hpp"

#include "base/text.hpp"
#include "wording/say.hpp"

#include <algorithm>
#include <cmath>

namespace platewright::plate {
namespace {

// Below these a name is given with a doubt; set on a range of plates (docs/plate-model.md).
constexpr double k_least_symmetry = 0.6;
constexpr double k_least_likeness = 0.35;
constexpr double k_rival = 0.6; // another mode's likeness, in parts of the named one's
constexpr double k_least_ring = 0.55;
constexpr double k_firm_ring = 0.72; // where the mode is not the fifth, as it usually is

Eigen::VectorXd orthogonal(const Eigen::VectorXd& v, const Eigen::MatrixXd& basis,
                           const Eigen::VectorXd& weight) {
    return v - basis * (basis.transpose() * weight.cwiseProduct(v));
}

Eigen::VectorXd unit(const Eigen::VectorXd& v, const Eigen::VectorXd& weight) {
    return v / std::sqrt(v.cwiseAbs2().dot(weight));
}

void append(Eigen::MatrixXd& basis, const Eigen::VectorXd& v, const Eigen::MatrixXd& other,
            const Eigen::VectorXd& weight) {
    Eigen::VectorXd rest = other.cols() > 0 ? orthogonal(v, other, weight) : v;
    if (basis.cols() > 0)
        rest = orthogonal(rest, basis, weight);
    basis.conservativeResize(v.size(), basis.cols() + 1);
    basis.rightCols(1) = unit(rest, weight);
}

Eigen::VectorXd heights(const Eigen::MatrixXd& shapes, Eigen::Index mode, Eigen::Index nodes) {
    Eigen::VectorXd w(nodes);
    for (Eigen::Index i = 0; i < nodes; ++i)
        w[i] = shapes(6 * i + 2, mode);
    return w;
}

} // namespace

ShapeJudge::ShapeJudge(const PlateModel& model) {
    const auto& mesh = model.shell().mesh();
    const auto& outline = model.form().outline;
    const auto n = static_cast<Eigen::Index>(model.nodes());
    weight_ = model.node_area_mm2() / model.node_area_mm2().sum();
    const double half_length = 0.5 * outline.size.length_mm;
    const double half_width = 0.5 * outline.size.lower_mm;
    const auto middle = outline.extent(half_length);
    const double middle_x = 0.5 * (middle.left_mm + middle.right_mm);
    Eigen::VectorXd x(n), y(n), edge(n);
    for (Eigen::Index i = 0; i < n; ++i) {
        const Point p = mesh.points[static_cast<std::size_t>(i)];
        x[i] = (p.x_mm - middle_x) / half_width;
        y[i] = (p.y_mm - half_length) / half_length;
        const double inside = distance_mm(outline.rim, p);
        edge[i] = std::exp(-inside / (0.15 * half_width + 1.0));
        if (inside < 0.5)
            edge_.push_back(static_cast<int>(i));
        if (std::hypot(x[i] * half_width, y[i] * half_length) < 0.3 * half_width)
            centre_.push_back(static_cast<int>(i));
    }
    const Eigen::MatrixXd none(n, 0);
    for (const Eigen::VectorXd& v : {Eigen::VectorXd(Eigen::VectorXd::Ones(n)), x, y})
        append(rigid_, v, none, weight_);
    twist_ = unit(orthogonal(x.cwiseProduct(y), rigid_, weight_), weight_);
    for (const Eigen::VectorXd& v :
         {Eigen::VectorXd(x.cwiseAbs2()), Eigen::VectorXd(y.cwiseAbs2()), edge})
        append(bowl_, v, rigid_, weight_);
    find_mirrors(mesh, middle_x);
}

void ShapeJudge::find_mirrors(const PlanMesh& mesh, double middle_mm) {
    for (const auto& p : mesh.points)
        mirrors_.push_back(locate(mesh, {2.0 * middle_mm - p.x_mm, p.y_mm}));
}

Eigen::VectorXd ShapeJudge::motion(const Eigen::MatrixXd& shapes, Eigen::Index mode) const {
    const Eigen::VectorXd w = heights(shapes, mode, weight_.size());
    return unit(orthogonal(w, rigid_, weight_), weight_);
}

std::vector<ShapeFacts> ShapeJudge::facts(const Eigen::MatrixXd& shapes) const {
    std::vector<ShapeFacts> all;
    for (Eigen::Index m = 0; m < shapes.cols(); ++m) {
        const Eigen::VectorXd w = motion(shapes, m);
        ShapeFacts f;
        double norm = 0.0;
        for (Eigen::Index i = 0; i < w.size(); ++i) {
            const auto& mirror = mirrors_[static_cast<std::size_t>(i)];
            double there = 0.0;
            for (int k = 0; k < 3; ++k)
                there += mirror.weight[k] * w[mirror.nodes[static_cast<std::size_t>(k)]];
            f.symmetry += weight_[i] * w[i] * there;
            norm += weight_[i] * there * there;
        }
        f.symmetry /= std::sqrt(norm);
        const double twist = w.cwiseProduct(weight_).dot(twist_);
        f.twist = twist * twist;
        f.bowl = (bowl_.transpose() * weight_.cwiseProduct(w)).squaredNorm();
        double centre = 0.0, against = 0.0;
        for (const int i : centre_)
            centre += w[i];
        for (const int i : edge_)
            against += w[i] * centre < 0.0 ? 1.0 : 0.0;
        f.ring = edge_.empty() ? 0.0 : against / static_cast<double>(edge_.size());
        all.push_back(f);
    }
    return all;
}

std::array<ShapeName, 3> ShapeJudge::names(const Eigen::MatrixXd& shapes) const {
    const auto all = facts(shapes);
    std::array<ShapeName, 3> names;
    names[0].number = 1;
    names[1].number = 2;
    names[2].number = 5;
    std::vector<int> odd, even;
    for (std::size_t m = 0; m < all.size(); ++m)
        (all[m].symmetry < 0.0 ? odd : even).push_back(static_cast<int>(m));
    const auto likeness = [&](int m, bool twist) {
        const auto& f = all[static_cast<std::size_t>(m)];
        return twist ? f.twist : f.bowl;
    };
    for (auto* list : {&odd, &even})
        std::stable_sort(list->begin(), list->end(), [&](int a, int b) {
            return likeness(a, list == &odd) > likeness(b, list == &odd);
        });
    const auto name = [&](ShapeName& to, int index, double rival) {
        const auto& f = all[static_cast<std::size_t>(index)];
        to.index = index;
        to.likeness = likeness(index, to.number == 1);
        if (std::abs(f.symmetry) < k_least_symmetry)
            to.doubt = wording::say("it mixes motion alike and opposite on the two sides");
        else if (to.likeness < k_least_likeness)
            to.doubt = wording::say("no mode is much like it");
        else if (rival > k_rival * to.likeness)
            to.doubt = wording::say("another mode is nearly as like it");
        else if (to.number == 5 && f.ring < (index == 4 ? k_least_ring : k_firm_ring))
            to.doubt = index == 4
                           ? wording::say("its ring does not close")
                           : wording::say("its ring does not close, and it is not the fifth mode");
        to.sure = to.doubt.empty();
    };
    if (!odd.empty())
        name(names[0], odd[0], odd.size() > 1 ? likeness(odd[1], true) : 0.0);
    if (even.size() > 1) {
        const double third = even.size() > 2 ? likeness(even[2], false) : 0.0;
        name(names[1], std::min(even[0], even[1]), third);
        name(names[2], std::max(even[0], even[1]), third);
    }
    return names;
}

std::vector<int> follow(const PlateModel& model, const Eigen::MatrixXd& before,
                        const Eigen::MatrixXd& after, double least) {
    const auto n = static_cast<Eigen::Index>(model.nodes());
    const Eigen::VectorXd& weight = model.node_area_mm2();
    std::vector<int> found;
    for (Eigen::Index a = 0; a < before.cols(); ++a) {
        const Eigen::VectorXd w = heights(before, a, n);
        double best = least;
        int best_at = -1;
        for (Eigen::Index b = 0; b < after.cols(); ++b) {
            const Eigen::VectorXd v = heights(after, b, n);
            const double shared = w.cwiseProduct(weight).dot(v);
            const double mac =
                shared * shared / (w.cwiseAbs2().dot(weight) * v.cwiseAbs2().dot(weight));
            if (mac > best) {
                best = mac;
                best_at = static_cast<int>(b);
            }
        }
        found.push_back(best_at);
    }
    return found;
}

} // namespace platewright::plate
