#pragma once
#include "screen/bench/planned_pass.hpp"
#include "screen/bench/struck_plate.hpp"
#include "screen/fields/drafts.hpp"
#include "screen/view_context.hpp"

#include <memory>
#include <optional>
#include <string>
#include <vector>

namespace platewright::screen {

/// Whether W ends the tapping: a plate's taps suffice, and it has not been ended yet.
bool may_end(const ViewContext& context);

/// Asks for a new session of the open plate at the stage the last one had.
void begin_session(const ViewContext& context);

/// The coming taps are struck at the next of the named spots; after the last comes none.
void strike_at_next_spot(const ViewContext& context);

/// The session's mass, large, with its stage and air: for the bench's title.
void draw_session_facts(const ViewContext& context, plot::Box box);

/// The plate, always: where it is held and struck while taps are wanted, where the next pass takes
/// wood when they suffice and one is planned. Below it what a hand can press. In its place the
/// session's figures while they are typed.
class PlateSide {
public:
    enum class Pressed { nothing, name, spectrum, end };
    Pressed draw(const ViewContext& context, plot::Box box);
    /// The same side by side, with the session's facts, in place of the lanes.
    Pressed draw_wide(const ViewContext& context, plot::Box box);
    /// Opens the session's figures for writing; a session has to be open.
    void write(const ViewContext& context);
    bool writing() const { return draft_.has_value(); }
    /// Saves the form as Enter does, once what was typed ahead is in its field.
    void enter_soon() { enter_in_ = 3; }

private:
    Pressed tools(const ViewContext& context, plot::Box box);
    void plate(const ViewContext& context, plot::Box box);
    void edit_session(const ViewContext& context, const plot::Box& box);

    std::optional<SessionDraft> draft_; // the session's figures while they are being typed
    Complaint complaint_;
    PlannedPass pass_;
    OwnOutline outline_;
    bool fresh_ = false;
    int enter_in_ = 0; // pictures; 0: not
};

} // namespace platewright::screen
