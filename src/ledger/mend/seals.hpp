#pragma once
/// Sums over the rows of a ledger: by these a figure that changed without the program is noticed.

#include "ledger/bundle/bundle_tables.hpp"
#include "ledger/tables/database.hpp"

#include <array>
#include <functional>
#include <map>
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace platewright::ledger {

/// A part is a row of one of these tables with all rows that belong to it and not to a smaller
/// part. The table `seal` holds the sum of each.
inline constexpr std::array<std::string_view, 8> k_parts{
    "instrument", "plate", "session", "tap", "mode_set", "wood", "wood_test", "wood_tap"};

struct PartName {
    std::string table;
    std::int64_t id = 0;
    auto operator<=>(const PartName&) const = default;
};

/// Threads: as its Database, which must outlive it. One for each Database.
class Seals {
public:
    explicit Seals(Database& database);

    /// FNV-1a of 64 bits (Fowler, Noll, Vo) over the part's rows, each in the order of its key:
    /// for each value its kind, then its bytes. Nothing where the row is not there.
    /// Cost: some 20 µs a row of a part.
    std::optional<std::int64_t> sum_of(const PartName& part);

    /// Writes the part's seal, or takes it away with the part. Within a transaction of the
    /// caller's.
    void seal(const PartName& part);
    /// The same of all there are, where they were not sealed by tables as they are today (after a
    /// migration). Cost: reads the whole database then.
    void seal_all_if_due();

    /// Calls `tell` with each part whose rows are not those that were sealed, or that can't be
    /// read; and whether it was sealed at all. Needs no transaction.
    void each_broken(const std::function<void(const PartName&, bool was_sealed)>& tell);

    const std::vector<TableShape>& shapes() const { return shapes_; }
    /// The part's place in the list of shapes that a table's rows belong to; its own where it is
    /// one.
    std::size_t part_of(std::size_t place) const;

private:
    Statement& rows_of(std::size_t place, const std::string& by);
    bool add(std::size_t place, const std::string& by, std::int64_t value, std::uint64_t& sum);
    std::string columns_today() const;

    Database& database_;
    std::vector<TableShape> shapes_;
    std::map<std::string, std::unique_ptr<Statement>> statements_;
};

bool is_part(std::string_view table);

/// FNV-1a, 64 bits, of a text.
std::uint64_t fnv_1a(std::string_view text);

} // namespace platewright::ledger
