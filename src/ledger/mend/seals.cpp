#include "ledger/mend/seals.hpp"

#include "base/failure.hpp"
#include "ledger/tables/rows.hpp"

#include <algorithm>
#include <bit>
#include <cstring>
#include <fmt/format.h>
#include <fmt/ranges.h>
#include <iterator>
#include <set>

namespace platewright::ledger {
namespace {

constexpr const char* k_sealed_key = "ledger.sealed"; // the columns that were summed

constexpr std::uint64_t k_offset = 14695981039346656037U;

void add_bytes(std::uint64_t& sum, const void* data, std::size_t size) {
    constexpr std::uint64_t k_prime = 1099511628211U;
    const auto* bytes = static_cast<const unsigned char*>(data);
    for (std::size_t i = 0; i < size; ++i)
        sum = (sum ^ bytes[i]) * k_prime;
}

void add_value(std::uint64_t& sum, const Value& value) {
    const auto kind = static_cast<unsigned char>(value.index());
    add_bytes(sum, &kind, 1);
    if (const auto* integer = std::get_if<std::int64_t>(&value)) {
        add_bytes(sum, integer, sizeof *integer);
    } else if (const auto* real = std::get_if<double>(&value)) {
        add_bytes(sum, real, sizeof *real);
    } else if (const auto* text = std::get_if<std::string>(&value)) {
        const std::uint64_t size = text->size(); // so that no two texts can be taken for two others
        add_bytes(sum, &size, sizeof size);
        add_bytes(sum, text->data(), text->size());
    }
}

// A ledger is the same on every machine.
static_assert(std::endian::native == std::endian::little,
              "sums are of bytes with the lowest first");

} // namespace

std::uint64_t fnv_1a(std::string_view text) {
    std::uint64_t sum = k_offset;
    add_bytes(sum, text.data(), text.size());
    return sum;
}

bool is_part(std::string_view table) { return std::ranges::find(k_parts, table) != k_parts.end(); }

Seals::Seals(Database& database) : database_{database}, shapes_{table_shapes(database)} {}

std::size_t Seals::part_of(std::size_t place) const {
    while (!is_part(shapes_[place].table.name))
        place = place_of(shapes_, shapes_[place].table.parent);
    return place;
}

Statement& Seals::rows_of(std::size_t place, const std::string& by) {
    const TableShape& shape = shapes_[place];
    const std::string sql = fmt::format(
        "SELECT {}, {} FROM {} WHERE {} = ? ORDER BY {}", shape.has_id ? "id" : "0",
        fmt::join(shape.raw_columns(), ", "), shape.table.name, by, fmt::join(shape.order, ", "));
    auto& statement = statements_[sql];
    if (!statement)
        statement = std::make_unique<Statement>(database_, sql);
    return *statement;
}

/// Adds the rows of a table that belong to `value`, with what belongs to them; false: there is
/// none.
bool Seals::add(std::size_t place, const std::string& by, std::int64_t value, std::uint64_t& sum) {
    const TableShape& shape = shapes_[place];
    const std::size_t columns = shape.raw_columns().size();
    Statement& rows = rows_of(place, by);
    rows.bind_all(value);
    bool any = false;
    while (rows.step()) {
        any = true;
        const std::int64_t id = rows.integer();
        add_bytes(sum, shape.table.name.data(), shape.table.name.size());
        for (const Value& value_of_column : rows.values(columns))
            add_value(sum, value_of_column);
        for (const std::size_t child : shape.children)
            if (!is_part(shapes_[child].table.name))
                add(child, shapes_[child].parent_column, id, sum);
    }
    return any;
}

std::optional<std::int64_t> Seals::sum_of(const PartName& part) {
    std::uint64_t sum = k_offset;
    if (!add(place_of(shapes_, part.table), "id", part.id, sum))
        return std::nullopt;
    return std::bit_cast<std::int64_t>(sum);
}

void Seals::seal(const PartName& part) {
    if (const auto sum = sum_of(part))
        database_.execute("INSERT INTO seal VALUES (?, ?, ?) ON CONFLICT (part, id) DO UPDATE SET "
                          "sum = excluded.sum WHERE sum <> excluded.sum",
                          part.table, part.id, *sum);
    else
        database_.execute("DELETE FROM seal WHERE part = ? AND id = ?", part.table, part.id);
}

std::string Seals::columns_today() const {
    std::string all;
    for (const TableShape& shape : shapes_)
        all += fmt::format("{}({})", shape.table.name, fmt::join(shape.raw_columns(), ","));
    return fmt::format("{:016x}", fnv_1a(all));
}

void Seals::seal_all_if_due() {
    const std::string today = columns_today();
    if (setting(database_, k_sealed_key) == today)
        return;
    Transaction transaction{database_};
    database_.run("DELETE FROM seal");
    for (const std::string_view table : k_parts)
        for (const std::int64_t id : database_.integers(fmt::format("SELECT id FROM {}", table)))
            seal({std::string{table}, id});
    set_setting(database_, k_sealed_key, today);
    transaction.commit();
}

void Seals::each_broken(const std::function<void(const PartName&, bool)>& tell) {
    for (const std::string_view table : k_parts) {
        std::map<std::int64_t, std::int64_t> sealed;
        Statement seals{database_, "SELECT id, sum FROM seal WHERE part = ?", table};
        while (seals.step()) {
            const std::int64_t id = seals.integer();
            sealed[id] = seals.integer();
        }
        std::set<std::int64_t> there;
        std::ranges::copy(database_.integers(fmt::format("SELECT id FROM {}", table)),
                          std::inserter(there, there.end()));
        for (const auto& [id, sum] : sealed)
            there.insert(id);
        for (const std::int64_t id : there) {
            const PartName part{std::string{table}, id};
            const auto known = sealed.find(id);
            std::optional<std::int64_t> sum;
            try {
                sum = sum_of(part);
            } catch (const base::Failure&) { // can't be read: told as broken
                sum.reset();
            }
            if (known == sealed.end() || !sum || *sum != known->second)
                tell(part, known != sealed.end());
        }
    }
}

} // namespace platewright::ledger
