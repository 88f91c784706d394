#pragma once
#include "screen/view_context.hpp"

#include <memory>
#include <optional>
#include <vector>

namespace platewright::screen {

/// The plate on the bench as it is drawn everywhere else, or a body by its outline: from outside,
/// scroll end up, in lengths of the body, y from the scroll end downwards.
class OwnOutline {
public:
    /// Made anew where what it is made from has changed.
    void follow(const ViewContext& context);
    /// A place in mm, as the outline is drawn; nothing where there is no outline.
    std::optional<plot::Point> placed(plate::Point at) const;

    std::vector<plot::Point> left, right; ///< its sides at the same heights, downwards
    std::vector<std::vector<plot::Point>> edges, lines; ///< rim and f-holes; joint and bar

private:
    std::shared_ptr<const bench::PlateView> made_of_;
    double length_mm_ = 0.0;
};

/// That plate with the spots where it may be struck: the one of the coming tap as a target, and for
/// the mode it is struck for (0: none) where it is held.
/// `mass`: where one is to be laid on, in the outline's own measures.
void draw_plate(ImguiCanvas& canvas, const Look& look, const plot::Box& box,
                const OwnOutline& plate, std::optional<taps::Spot> struck, int sought, bool of_body,
                std::optional<plot::Point> mass = std::nullopt);

} // namespace platewright::screen
