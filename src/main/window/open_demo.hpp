#pragma once
#include <string>

namespace platewright::cli {

/// Opens the invented demo workshop in a window of its own, by `platewright demo` in another
/// process: from a ledger of its own in DemoWorkshop::usual_folder(), which is made the first time
/// (half a minute). Gives a sentence on what happens, or why nothing does. The ledger that is open
/// is not touched.
std::string open_demo(bool walk); ///< walk: at the beginning of a first walk

} // namespace platewright::cli
