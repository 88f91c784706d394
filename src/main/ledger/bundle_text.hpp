#pragma once
#include "ledger/bundle/bundle.hpp"

namespace platewright::cli {

/// What a maker counts in a bundle: instruments, plates, sessions, taps, woods, and last, without a
/// name, all that belongs to them.
std::vector<ledger::TakeReport::Kind> main_kinds(const ledger::TakeReport& report);

/// How many things of the bundle lie in the bin here.
int in_the_bin(const ledger::TakeReport& report);

/// What became of recordings that were not whole here or there, a sentence each.
std::vector<std::string> recording_words(const ledger::TakeReport& report);

/// What taking a bundle in brought, or would bring, as a table in the terminal.
void say_take_report(const ledger::TakeReport& report, const ledger::TakeOptions& options);

} // namespace platewright::cli
