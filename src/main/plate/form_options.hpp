#pragma once
#include "base/result.hpp"
#include "ledger/shape_columns.hpp"
#include "main/typed.hpp"

#include <filesystem>
#include <string>

namespace platewright::cli {

/// What the command line may say of a plate's shape; empty: nothing said.
struct FormOptions {
    FieldOptions<ledger::FormRecord> of_form;
    std::filesystem::path outline, heights, f_hole_line;
    std::string f_holes, bar, bar_line;
    bool any() const;
};
void add_form_options(CLI::App& command, FormOptions& options);

/// The shape with what was said in place of what was known. Faults name the option or the line of
/// the file; nothing is stored here.
base::Result<ledger::FormRecord> form_with(ledger::FormRecord form, const FormOptions& options);

/// The whole of a text file. Fault: it can't be read, or is no text of a usual size (16 MB at
/// most).
base::Result<std::string> read_text(const std::filesystem::path& path);

} // namespace platewright::cli
