#include "plate/shell/frontal_cholesky.hpp"
#include "support/catch.hpp"

#include <algorithm>
#include <map>

using namespace platewright::plate;

// A frame round a hole: two bars joined at their ends. Once the ends are taken away, nothing lies
// between the bars that could be eliminated, and Eigen's product divided by that nothing.
TEST_CASE("a front without nodes of its own is passed over") {
    constexpr int k_columns = 64, k_rows = 14, k_wide = 3;
    std::vector<Point> points;
    std::map<std::pair<int, int>, int> at;
    std::vector<std::pair<int, int>> joined;
    for (int x = 0; x < k_columns; ++x)
        for (int y = 0; y < k_rows; ++y) {
            if (std::min(x, k_columns - 1 - x) >= k_wide && std::min(y, k_rows - 1 - y) >= k_wide)
                continue; // the hole
            at[{x, y}] = static_cast<int>(points.size());
            for (const auto& before : {std::pair{x - 1, y}, {x, y - 1}})
                if (at.contains(before))
                    joined.emplace_back(at.at(before), static_cast<int>(points.size()));
            points.push_back({static_cast<double>(x), static_cast<double>(y)});
        }
    const NodeGraph graph = graph_of(static_cast<int>(points.size()), {}, joined);
    const EliminationOrder order(graph, points);
    REQUIRE(std::ranges::any_of(order.fronts(), [](const EliminationOrder::Front& front) {
        return front.own.empty() && front.rim.size() >= 8; // from there on Eigen asks how many
    }));
    BlockMatrix k;
    for (int i = 0; i < graph.nodes(); ++i)
        for (int entry = graph.start[static_cast<std::size_t>(i)];
             entry < graph.start[static_cast<std::size_t>(i) + 1]; ++entry)
            k.blocks.push_back(Matrix6::Identity() *
                               (graph.neighbours[static_cast<std::size_t>(entry)] == i ? 10 : -1));
    const NodeMass none{std::vector<double>(graph.neighbours.size(), 0.0)};
    const FrontalCholesky factor(graph, order, k, none, 0.0);
    const Eigen::MatrixXd loads = Eigen::MatrixXd::Random(6 * graph.nodes(), 3);
    Eigen::MatrixXd moved = loads;
    factor.solve(moved);
    CHECK((multiply(graph, k, moved) - loads).cwiseAbs().maxCoeff() < 1e-9);
}
