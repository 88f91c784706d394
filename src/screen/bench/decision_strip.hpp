#pragma once
#include "screen/view_context.hpp"

#include <string>

namespace platewright::screen {

/// Stop, or take more: the plate's decision in a sentence that is read from two metres, and its
/// reason below it, as trends::decide has it. Draws into the box from its top, its ground over all
/// of the box, and gives the height it took. The plate is never null.
double draw_decision(const ViewContext& context, const plot::Box& box, bool reasoned = true);
/// What that height will be in a box so wide.
double decision_height(const ViewContext& context, double width, bool reasoned = true);

/// Whether advice of wood is held back: the microphone was lost while the maker tapped, and one
/// order at a time is enough.
bool waits_for_microphone(const ViewContext& context);
/// The same while the plate's model, which says how much and where, is being fitted: grams that
/// will be others in some seconds are not named.
bool waits_for_model(const ViewContext& context);
/// A mass is being laid on and taken off: at the bench its next step stands in place of the
/// decision until it is done, for one thing is asked at a time.
bool weighs_now(const ViewContext& context);
/// What the strip says, and why: the decision's own words, or that it waits.
std::string decision_sentence(const ViewContext& context);
std::string decision_reason(const ViewContext& context);

} // namespace platewright::screen
