#pragma once
#include <string>

namespace platewright::wording {

/// The sentence a maker reads for the exception that is being handled; what is behind it goes to
/// the log (base/log.hpp), never to the maker. Call it within a catch.
std::string sentence_for_failure();

} // namespace platewright::wording
