#pragma once
#include <string>

namespace platewright::cli {

/// Opens the invented demo workshop in a window of its own: from a ledger of its own in the folder
/// "Platewright demo (invented)" at home, which is made from sample-audio/ the first time (half a minute,
/// by another process). Gives a sentence on what happens, or why nothing does. The ledger that is open
/// is not touched.
std::string open_demo();

} // namespace platewright::cli
