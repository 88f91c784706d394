#pragma once
#include "screen/drafts.hpp"
#include "screen/sight.hpp"

#include <optional>
#include <string>

namespace platewright::screen {

/// Asks for a new session of the open plate at the stage the last one had.
void begin_session(const Sight& sight);

/// The coming taps are struck at the next of the named spots; after the last comes none.
void strike_at_next_spot(const Sight& sight);

/// What stands beside the figures: where the plate is struck, and the session's card with its mass
/// and climate, which is also where they are typed.
class BenchSide {
public:
    /// True when the maker asks to name a mode.
    bool draw(const Sight& sight, plot::Box box);
    /// The same side by side, in place of the figures.
    bool draw_wide(const Sight& sight, plot::Box box);
    /// Opens the card for writing; a session has to be open.
    void write(const Sight& sight);
    bool writing() const { return draft_.has_value(); }

private:
    bool session_card(const Sight& sight, plot::Box box);
    void edit_session(const Sight& sight, const plot::Box& box);

    std::optional<SessionDraft> draft_; // the session's figures while they are being typed
    std::string complaint_;
    bool fresh_ = false;
};

} // namespace platewright::screen
