#pragma once
#include "ledger/bundle.hpp"

namespace platewright::cli {

/// What taking a bundle in brought, or would bring, as a table in the terminal.
void say_take_report(const ledger::TakeReport& report, const ledger::TakeOptions& options);

} // namespace platewright::cli
