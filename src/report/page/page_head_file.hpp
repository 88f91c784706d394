#pragma once
#include "report/sheet/markup.hpp"

#include <string>

namespace platewright::report {

/// What stands before a page's body: its language of now, its look, and the policy by which a
/// browser fetches nothing for it and runs no script but ours. <html> is left open.
void put_head(Markup& markup, const std::string& title);
/// The page's script.
void put_script(Markup& markup);

} // namespace platewright::report
