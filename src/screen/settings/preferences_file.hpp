#pragma once
#include "screen/settings/preferences.hpp"

namespace platewright::screen {

/// The maker's preferences, kept in $XDG_CONFIG_HOME/platewright/window (else under ~/.config) as
/// lines "name value". What can't be read is as made; what can't be written is let go, since
/// nothing but comfort is lost.
Preferences read_preferences();
void write_preferences(const Preferences& preferences);

} // namespace platewright::screen
