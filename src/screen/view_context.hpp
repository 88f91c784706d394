#pragma once
#include "bench/command.hpp"
#include "bench/snapshot.hpp"
#include "screen/draw/imgui_canvas.hpp"
#include "screen/draw/look.hpp"
#include "screen/keys.hpp"
#include "screen/outside.hpp"
#include "screen/settings/preferences_file.hpp"
#include "wording/say.hpp"

#include <functional>
#include <optional>
#include <vector>

namespace platewright::screen {

// What is said comes from the catalogue, in the maker's language and with his decimal mark.
using wording::figure;
using wording::say;
using wording::say_count;
using wording::signed_figure;
using wording::with_range;

/// The places of the window, each with a key from F1 to F10.
enum class Place { bench, drift, session, beside, plates, sound, settings, carving, wood, files };

/// What a view has before it for one picture: it reads the snapshot, asks by commands, and keeps
/// nothing of either.
struct ViewContext {
    const bench::Snapshot& now;
    const std::function<void(bench::Command)>& send;
    const Look& look;
    Keys& keys;
    Place& place; // where the maker is; a view may send him elsewhere
    Preferences& preferences;
    ledger::Id& session_shown; // on the session's page; 0: the one on the bench
    const Outside& outside;
    int& owed;         // pictures wanted after this one, for what takes effect only then
    double& wake_in_s; // after so long a picture is wanted though nothing happens
    /// Whether the parts of a view stand one under another, in a view that scrolls, because the
    /// window has no room for them beside each other; and down to where they have been set, in
    /// pixels.
    const bool stacks;
    double& stacked_to;
    /// Whether something was asked of the bench that is not in `now` yet: what would be typed now
    /// could go to the session before.
    const bool is_behind;
    /// Whose tapping the maker has ended: the input is off by his word while it is on the bench; 0:
    /// none.
    ledger::Id& closed_session;

    const plot::Palette& palette() const { return *look.palette; }
    /// A canvas on the window that is being filled just now.
    ImguiCanvas canvas() const { return {*ImGui::GetWindowDrawList(), look}; }
    /// The session on the bench, or null.
    const ledger::SessionHistory* session() const;
    /// Accepted taps in it.
    int good_taps() const;
};

/// "20.0 °C, 50 % humidity".
std::string air_words(const trends::Air& air);

} // namespace platewright::screen
