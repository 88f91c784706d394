#pragma once
#include "plot/canvas.hpp"

#include <functional>
#include <string>
#include <vector>

namespace platewright::plot {

/// A box of this size about a point, with a gap all round.
Box around(Point middle, Size size, double gap);

/// Where on a drawing words may stand: within its room, and on nothing that has been put there
/// before. Each is written on a light ground, in black. Threads: the canvas's.
class WordPlaces {
public:
    WordPlaces(Canvas& canvas, double em) : canvas_(canvas), em_(em) {}

    void stay_within(const Box& room) { room_ = room; }
    /// Nothing is written here from now on.
    void take(const Box& box) { taken_.push_back(box); }
    bool is_taken(const Box& box) const;
    /// Figures will stand about these: words beside a mark go where they hide the fewest.
    void will_stand(Point at, const std::string& figures);

    /// In place of a mark; false where something else stands there.
    bool put_on(Point at, const std::string& words);
    /// Right, left, above or below the mark, so far away, where nothing else stands.
    void put_beside(Point at, const std::string& words, double away);
    /// On a line, so high, at one of some places spread over it, where `is_clear` says so too.
    void put_along(const std::vector<Point>& line, const std::string& words, double height,
                   const std::function<bool(const Box&)>& is_clear);

private:
    bool is_in_room(const Box& box) const;
    Box figures_box(Point at, const std::string& words) const;
    void write(Point middle, const std::string& words, const Box& box, double height,
               Weight weight);

    Canvas& canvas_;
    double em_;
    Box room_ = {};
    std::vector<Box> taken_ = {}, expected_ = {};
};

} // namespace platewright::plot
