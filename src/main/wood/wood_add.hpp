#pragma once
#include "main/commands.hpp"

namespace platewright::cli {

/// `wood add`: brings wood into the ledger, or another test of wood that is there.
void add_wood_add(CLI::App& wood, Common& common, Chosen& chosen);

} // namespace platewright::cli
