#pragma once
#include <functional>
#include <string>
#include <string_view>

namespace platewright::screen {

// Notes are one line to a paragraph, as they are kept. In a field they are broken at blanks to its
// width: a break right after a blank is soft, and none of the text.

/// The words with soft breaks, each line as long as `fits` allows; a word longer than a line stays
/// whole. Blanks before a break that is the maker's own are left out.
std::string softly_broken(std::string_view words,
                          const std::function<bool(std::string_view line)>& fits);

/// The words without them.
std::string without_soft_breaks(std::string_view broken);

/// Where in the broken text so many bytes of the words have gone by; after a soft break there.
std::size_t place_in_broken(std::string_view broken, std::size_t bytes);

} // namespace platewright::screen
