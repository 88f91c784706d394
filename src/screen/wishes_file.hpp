#pragma once
#include "screen/wishes.hpp"

namespace platewright::screen {

/// The maker's wishes, kept in $XDG_CONFIG_HOME/platewright/window (else under ~/.config) as lines
/// "name value". What can't be read is as made; what can't be written is let go, since nothing but
/// comfort is lost.
Wishes read_wishes();
void write_wishes(const Wishes& wishes);

} // namespace platewright::screen
