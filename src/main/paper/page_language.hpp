#pragma once
#include "wording/language.hpp"

#include <string>

namespace platewright::cli {

/// Paper and pages are for people: they are in the window's language and with its decimal mark,
/// unless another one's code is given. It is spoken while the result is there. All else stays as
/// scripts know it.
wording::Speaking speaking_for_people(const std::string& code);

} // namespace platewright::cli
