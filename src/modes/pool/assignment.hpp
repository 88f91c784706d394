#pragma once
#include <Eigen/Core>

#include <vector>

namespace platewright::modes {

/// The cheapest one-to-one pairing of rows with columns (Hungarian method with potentials,
/// Kuhn 1955, docs/sources.md#kuhn).
/// In:   cost(r, c) finite, at least as many columns as rows.  Out: the column of each row.
/// Cost: rows² · columns.  Threads: any.
std::vector<long> cheapest_assignment(const Eigen::MatrixXd& cost);

/// Pairs rows with columns where that is cheaper than leaving both alone at `alone` each.
/// Out: the column of each row, or -1.
std::vector<long> pair_or_leave(const Eigen::MatrixXd& cost, double alone);

} // namespace platewright::modes
