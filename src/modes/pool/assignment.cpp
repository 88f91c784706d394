#include "modes/pool/assignment.hpp"

#include <limits>
#include <stdexcept>

namespace platewright::modes {
namespace {

using Index = Eigen::Index;
using Columns = std::vector<long>;

/// Dual potentials and the pairing so far; index 0 stands for "none".
class Hungarian {
public:
    explicit Hungarian(const Eigen::MatrixXd& cost)
        : cost_(cost), row_price_(size(cost.rows()), 0.0), column_price_(size(cost.cols()), 0.0),
          row_of_(size(cost.cols()), 0), way_(size(cost.cols()), 0) {
        for (Index row = 1; row <= cost.rows(); ++row)
            augment(row);
    }

    Columns columns() const {
        Columns of_row(static_cast<std::size_t>(cost_.rows()), -1);
        for (std::size_t column = 1; column < row_of_.size(); ++column) {
            if (row_of_[column] > 0) {
                of_row[static_cast<std::size_t>(row_of_[column] - 1)] =
                    static_cast<long>(column) - 1;
            }
        }
        return of_row;
    }

private:
    static std::size_t size(Index n) { return static_cast<std::size_t>(n) + 1; }

    /// Shortest alternating path from `row` to a free column, by reduced cost.
    void augment(Index row) {
        constexpr double infinity = std::numeric_limits<double>::infinity();
        std::vector<double> reach(column_price_.size(), infinity);
        std::vector<bool> done(column_price_.size(), false);
        row_of_[0] = row;
        std::size_t here = 0;
        do {
            done[here] = true;
            const Index current = row_of_[here];
            double least = infinity;
            std::size_t next = 0;
            for (std::size_t column = 1; column < reach.size(); ++column) {
                if (done[column])
                    continue;
                const double reduced = cost_(current - 1, static_cast<Index>(column) - 1) -
                                       row_price_[static_cast<std::size_t>(current)] -
                                       column_price_[column];
                if (reduced < reach[column]) {
                    reach[column] = reduced;
                    way_[column] = here;
                }
                if (reach[column] < least) {
                    least = reach[column];
                    next = column;
                }
            }
            for (std::size_t column = 0; column < reach.size(); ++column) {
                if (done[column]) {
                    row_price_[static_cast<std::size_t>(row_of_[column])] += least;
                    column_price_[column] -= least;
                } else {
                    reach[column] -= least;
                }
            }
            here = next;
        } while (row_of_[here] != 0);
        while (here != 0) {
            const std::size_t from = way_[here];
            row_of_[here] = row_of_[from];
            here = from;
        }
    }

    const Eigen::MatrixXd& cost_;
    std::vector<double> row_price_;
    std::vector<double> column_price_;
    std::vector<Index> row_of_;    // of each column
    std::vector<std::size_t> way_; // column before this one on the path
};

} // namespace

std::vector<long> cheapest_assignment(const Eigen::MatrixXd& cost) {
    if (cost.rows() > cost.cols())
        throw std::invalid_argument("assignment needs rows <= columns");
    if (!cost.allFinite())
        throw std::invalid_argument("assignment needs finite costs");
    return Hungarian(cost).columns();
}

std::vector<long> pair_or_leave(const Eigen::MatrixXd& cost, double alone) {
    // One extra column a row: leaving the row, and with it some column, alone.
    const Index rows = cost.rows();
    Eigen::MatrixXd extended(rows, cost.cols() + rows);
    extended << cost, Eigen::MatrixXd::Constant(rows, rows, 2.0 * alone);
    Columns columns = cheapest_assignment(extended);
    for (long& column : columns) {
        if (column >= cost.cols())
            column = -1;
    }
    return columns;
}

} // namespace platewright::modes
