#pragma once
#include "ledger/store.hpp"
#include "main/json.hpp"

#include <filesystem>
#include <string>

namespace platewright::cli {

/// Reads what was found again and has no readings yet, with a line of progress; gives how many
/// taps.
int read_found_again(const std::filesystem::path& folder);

/// What was found again, as a sentence, and as JSON with the number of taps that were read.
std::string found_text(const ledger::RescueReport& found);
Json found_json(const ledger::RescueReport& found, int read);

} // namespace platewright::cli
