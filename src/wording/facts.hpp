#pragma once
#include <string>
#include <utility>
#include <vector>

namespace platewright::wording {

/// What is told of a thing, in order, in the language of now: each figure by its name; a sentence
/// alone has no name.
using Facts = std::vector<std::pair<std::string, std::string>>;

} // namespace platewright::wording
