#pragma once
#include "ledger/record.hpp"

#include <string>
#include <string_view>
#include <vector>

namespace platewright::report {

/// How a spreadsheet of this country reads numbers.
enum class CsvStyle {
    point, ///< 12.5, fields parted by commas
    comma  ///< 12,5, fields parted by semicolons
};

struct CsvTable {
    std::string name; ///< "modes.csv"
    std::string text; ///< RFC 4180, UTF-8, the first line names the columns with their units
};

/// The ledger's figures as flat tables for a spreadsheet: plates, sessions, modes, taps, partials,
/// thickness, flex, pins, one line each. Text that a spreadsheet would take for a formula gets an
/// apostrophe before it. Threads: one.
class CsvTables {
public:
    explicit CsvTables(CsvStyle style = CsvStyle::point);
    void add(const ledger::PlateHistory& history);
    std::vector<CsvTable> finish() &&;

private:
    void add_session(const std::vector<std::string>& begin, const ledger::SessionHistory& session);
    void line(std::size_t table, std::vector<std::string> begin, std::vector<std::string> more);
    CsvStyle style_;
    std::vector<CsvTable> tables_;
};

} // namespace platewright::report
