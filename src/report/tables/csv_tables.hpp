#pragma once
#include "ledger/record.hpp"

#include <map>
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

/// One cell: only a number has a decimal mark to be set; a date in a note is left as it was
/// written.
struct CsvCell {
    std::string text;
    bool is_number = false;
};
using CsvCells = std::vector<CsvCell>;

/// A number as it is kept, all digits; nothing where there is none.
CsvCell number_cell(double value);
CsvCell number_cell(const std::optional<double>& value);
/// Words of a person: a spreadsheet must not take them for a formula.
CsvCell words_cell(std::string_view words);

/// The ledger's figures as flat tables for a spreadsheet, one line each: plates with their shapes,
/// sessions, modes, taps, partials, thickness, flex, pins, targets, plans, references, and the
/// wood. Text that a spreadsheet would take for a formula gets an apostrophe before it. Threads:
/// one.
class CsvTables {
public:
    explicit CsvTables(CsvStyle style = CsvStyle::point);
    void add(const ledger::PlateHistory& history);
    /// Of a session that was added before; any other is passed over.
    void add(const ledger::ReferenceRecord& reference);
    void add(const ledger::WoodHistory& wood);
    std::vector<CsvTable> finish() &&;

private:
    void add_shape(const CsvCells& begin, const ledger::FormRecord& form);
    void add_session(const CsvCells& begin, const ledger::SessionHistory& session);
    void add_sound(const CsvCells& begin, const ledger::SessionHistory& session);
    void add_plan(const CsvCells& begin, const ledger::PlanRecord& plan);
    void line(std::size_t table, CsvCells begin, CsvCells more);
    CsvStyle style_;
    std::vector<CsvTable> tables_;
    std::map<ledger::Id, CsvCells> sessions_; // how the lines of each begin
};

} // namespace platewright::report
