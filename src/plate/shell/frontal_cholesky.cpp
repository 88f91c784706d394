#include "plate/shell/frontal_cholesky.hpp"

#include <Eigen/Cholesky>

#include <algorithm>
#include <stdexcept>

namespace platewright::plate {
namespace {

constexpr std::size_t k_leaf_nodes = 18; // smaller groups are eliminated in one dense front

std::span<const int> row_of(const NodeGraph& graph, int node) {
    const auto first = static_cast<std::size_t>(graph.start[static_cast<std::size_t>(node)]);
    const auto last = static_cast<std::size_t>(graph.start[static_cast<std::size_t>(node) + 1]);
    return std::span(graph.neighbours).subspan(first, last - first);
}

} // namespace

EliminationOrder::EliminationOrder(const NodeGraph& graph, std::span<const Point> points) {
    std::vector<int> all(static_cast<std::size_t>(graph.nodes()));
    for (std::size_t i = 0; i < all.size(); ++i)
        all[i] = static_cast<int>(i);
    dissect(graph, points, std::move(all));
    rank_.assign(points.size(), 0);
    int next = 0;
    for (const auto& front : fronts_)
        for (const int node : front.own)
            rank_[static_cast<std::size_t>(node)] = next++;
    find_rims(graph);
}

int EliminationOrder::dissect(const NodeGraph& graph, std::span<const Point> points,
                              std::vector<int> nodes) {
    Front front;
    if (nodes.size() > k_leaf_nodes) {
        const auto place = [&](int node) { return points[static_cast<std::size_t>(node)]; };
        const auto [left, right] =
            std::minmax_element(nodes.begin(), nodes.end(),
                                [&](int a, int b) { return place(a).x_mm < place(b).x_mm; });
        const auto [low, high] = std::minmax_element(nodes.begin(), nodes.end(), [&](int a, int b) {
            return place(a).y_mm < place(b).y_mm;
        });
        const bool across =
            place(*right).x_mm - place(*left).x_mm > place(*high).y_mm - place(*low).y_mm;
        const auto key = [&](int node) { return across ? place(node).x_mm : place(node).y_mm; };
        const auto middle = nodes.begin() + static_cast<std::ptrdiff_t>(nodes.size() / 2);
        std::nth_element(nodes.begin(), middle, nodes.end(),
                         [&](int a, int b) { return key(a) != key(b) ? key(a) < key(b) : a < b; });
        std::vector<int> second(middle, nodes.end());
        std::vector<char> is_second(points.size(), 0);
        for (const int node : second)
            is_second[static_cast<std::size_t>(node)] = 1;
        std::vector<int> first, between;
        for (auto at = nodes.begin(); at != middle; ++at) {
            const auto near = row_of(graph, *at);
            const bool touches = std::any_of(near.begin(), near.end(), [&](int other) {
                return is_second[static_cast<std::size_t>(other)] != 0;
            });
            (touches ? between : first).push_back(*at);
        }
        if (!first.empty())
            front.children.push_back(dissect(graph, points, std::move(first)));
        front.children.push_back(dissect(graph, points, std::move(second)));
        nodes = std::move(between);
    }
    front.own = std::move(nodes);
    fronts_.push_back(std::move(front));
    return static_cast<int>(fronts_.size()) - 1;
}

void EliminationOrder::find_rims(const NodeGraph& graph) {
    for (auto& front : fronts_) {
        std::vector<int> rim;
        for (const int node : front.own) {
            const auto near = row_of(graph, node);
            rim.insert(rim.end(), near.begin(), near.end());
        }
        for (const int child : front.children) {
            const auto& left = fronts_[static_cast<std::size_t>(child)].rim;
            rim.insert(rim.end(), left.begin(), left.end());
        }
        const auto by_rank = [&](int a, int b) {
            return rank_[static_cast<std::size_t>(a)] < rank_[static_cast<std::size_t>(b)];
        };
        std::sort(rim.begin(), rim.end(), by_rank);
        rim.erase(std::unique(rim.begin(), rim.end()), rim.end());
        if (front.own.empty()) {
            front.rim = std::move(rim);
            continue;
        }
        const int last = rank_[static_cast<std::size_t>(front.own.back())];
        std::erase_if(rim, [&](int node) { return rank_[static_cast<std::size_t>(node)] <= last; });
        front.rim = std::move(rim);
    }
}

FrontalCholesky::FrontalCholesky(const NodeGraph& graph, const EliminationOrder& order,
                                 const BlockMatrix& k, const NodeMass& m, double shift)
    : order_(&order), factors_(order.fronts().size()) {
    std::vector<Eigen::MatrixXd> remainders(order.fronts().size());
    std::vector<int> place(static_cast<std::size_t>(graph.nodes()), -1);
    for (std::size_t f = 0; f < order.fronts().size(); ++f) {
        const auto& front = order.fronts()[f];
        const auto own = static_cast<Eigen::Index>(6 * front.own.size());
        const auto rim = static_cast<Eigen::Index>(6 * front.rim.size());
        Eigen::MatrixXd dense = Eigen::MatrixXd::Zero(own + rim, own + rim);
        int next = 0;
        for (const auto* group : {&front.own, &front.rim})
            for (const int node : *group)
                place[static_cast<std::size_t>(node)] = 6 * next++;
        for (const int node : front.own) {
            const int column = place[static_cast<std::size_t>(node)];
            for (int at = graph.start[static_cast<std::size_t>(node)];
                 at < graph.start[static_cast<std::size_t>(node) + 1]; ++at) {
                const auto entry = static_cast<std::size_t>(at);
                const int row = place[static_cast<std::size_t>(graph.neighbours[entry])];
                if (row < column)
                    continue;
                dense.block<6, 6>(row, column) += k.blocks[entry].transpose();
                dense.block<3, 3>(row, column).diagonal().array() += shift * m.kg[entry];
            }
        }
        for (const int child : front.children) {
            auto& left = remainders[static_cast<std::size_t>(child)];
            const auto& nodes = order.fronts()[static_cast<std::size_t>(child)].rim;
            for (std::size_t b = 0; b < nodes.size(); ++b)
                for (std::size_t a = b; a < nodes.size(); ++a) {
                    const int row = place[static_cast<std::size_t>(nodes[a])];
                    const int column = place[static_cast<std::size_t>(nodes[b])];
                    const auto block = left.block<6, 6>(static_cast<Eigen::Index>(6 * a),
                                                        static_cast<Eigen::Index>(6 * b));
                    if (row >= column)
                        dense.block<6, 6>(row, column) += block;
                    else
                        dense.block<6, 6>(column, row) += block.transpose();
                }
            left.resize(0, 0);
        }
        auto& factor = factors_[f];
        factor.own = dense.topLeftCorner(own, own);
        if (Eigen::LLT<Eigen::Ref<Eigen::MatrixXd>>(factor.own).info() != Eigen::Success)
            throw std::domain_error("FrontalCholesky: the matrix is not positive definite");
        factor.rim = dense.bottomLeftCorner(rim, own);
        remainders[f] = dense.bottomRightCorner(rim, rim);
        // Eigen's kernels take the address of the first element, and divide by how many there are;
        // where a hole parts the mesh, nothing lies between its halves.
        if (rim > 0 && own > 0) {
            factor.own.triangularView<Eigen::Lower>().transpose().solveInPlace<Eigen::OnTheRight>(
                factor.rim);
            remainders[f].selfadjointView<Eigen::Lower>().rankUpdate(factor.rim, -1.0);
        }
        for (const auto* group : {&front.own, &front.rim})
            for (const int node : *group)
                place[static_cast<std::size_t>(node)] = -1;
    }
}

void FrontalCholesky::solve(Eigen::MatrixXd& columns) const {
    const auto& fronts = order_->fronts();
    const auto gather = [&](const std::vector<int>& nodes, Eigen::MatrixXd& into) {
        into.resize(static_cast<Eigen::Index>(6 * nodes.size()), columns.cols());
        for (std::size_t i = 0; i < nodes.size(); ++i)
            into.middleRows<6>(static_cast<Eigen::Index>(6 * i)) =
                columns.middleRows<6>(6 * nodes[i]);
    };
    const auto scatter = [&](const std::vector<int>& nodes, const Eigen::MatrixXd& from) {
        for (std::size_t i = 0; i < nodes.size(); ++i)
            columns.middleRows<6>(6 * nodes[i]) =
                from.middleRows<6>(static_cast<Eigen::Index>(6 * i));
    };
    Eigen::MatrixXd own, rim;
    for (std::size_t f = 0; f < fronts.size(); ++f) {
        if (fronts[f].own.empty())
            continue;
        gather(fronts[f].own, own);
        gather(fronts[f].rim, rim);
        factors_[f].own.triangularView<Eigen::Lower>().solveInPlace(own);
        rim.noalias() -= factors_[f].rim * own;
        scatter(fronts[f].own, own);
        scatter(fronts[f].rim, rim);
    }
    for (std::size_t f = fronts.size(); f-- > 0;) {
        if (fronts[f].own.empty())
            continue;
        gather(fronts[f].own, own);
        gather(fronts[f].rim, rim);
        own.noalias() -= factors_[f].rim.transpose() * rim;
        factors_[f].own.triangularView<Eigen::Lower>().transpose().solveInPlace(own);
        scatter(fronts[f].own, own);
    }
}

} // namespace platewright::plate
