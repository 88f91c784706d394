#include "plate/shell/block_matrix.hpp"

#include <algorithm>
#include <stdexcept>

namespace platewright::plate {

std::size_t NodeGraph::place(int i, int j) const {
    const auto first = neighbours.begin() + start[static_cast<std::size_t>(i)];
    const auto last = neighbours.begin() + start[static_cast<std::size_t>(i) + 1];
    const auto found = std::lower_bound(first, last, j);
    if (found == last || *found != j)
        throw std::invalid_argument("NodeGraph::place: the nodes are no neighbours");
    return static_cast<std::size_t>(found - neighbours.begin());
}

NodeGraph graph_of(int nodes, std::span<const Triangle> triangles,
                   std::span<const std::pair<int, int>> pairs) {
    std::vector<std::vector<int>> near(static_cast<std::size_t>(nodes));
    for (int i = 0; i < nodes; ++i)
        near[static_cast<std::size_t>(i)].push_back(i);
    for (const auto& t : triangles)
        for (const int a : t)
            for (const int b : t)
                near[static_cast<std::size_t>(a)].push_back(b);
    for (const auto& [a, b] : pairs) {
        near[static_cast<std::size_t>(a)].push_back(b);
        near[static_cast<std::size_t>(b)].push_back(a);
    }
    NodeGraph graph;
    graph.start.push_back(0);
    for (auto& row : near) {
        std::sort(row.begin(), row.end());
        row.erase(std::unique(row.begin(), row.end()), row.end());
        graph.neighbours.insert(graph.neighbours.end(), row.begin(), row.end());
        graph.start.push_back(static_cast<int>(graph.neighbours.size()));
    }
    return graph;
}

Eigen::MatrixXd multiply(const NodeGraph& graph, const BlockMatrix& k, const Eigen::MatrixXd& x) {
    Eigen::MatrixXd y = Eigen::MatrixXd::Zero(x.rows(), x.cols());
    for (int i = 0; i < graph.nodes(); ++i)
        for (int at = graph.start[static_cast<std::size_t>(i)];
             at < graph.start[static_cast<std::size_t>(i) + 1]; ++at) {
            const auto place = static_cast<std::size_t>(at);
            y.middleRows<6>(6 * i) +=
                k.blocks[place] * x.middleRows<6>(6 * graph.neighbours[place]);
        }
    return y;
}

Eigen::MatrixXd multiply(const NodeGraph& graph, const NodeMass& m, const Eigen::MatrixXd& x) {
    Eigen::MatrixXd y = Eigen::MatrixXd::Zero(x.rows(), x.cols());
    for (int i = 0; i < graph.nodes(); ++i)
        for (int at = graph.start[static_cast<std::size_t>(i)];
             at < graph.start[static_cast<std::size_t>(i) + 1]; ++at) {
            const auto place = static_cast<std::size_t>(at);
            y.middleRows<3>(6 * i) += m.kg[place] * x.middleRows<3>(6 * graph.neighbours[place]);
        }
    return y;
}

} // namespace platewright::plate
