#pragma once
#include "screen/bench_side.hpp"
#include "screen/chart_pane.hpp"
#include "screen/first_run.hpp"
#include "screen/sight.hpp"

#include <optional>

namespace platewright::screen {

/// The place to stand at with both hands full: the answer to a tap, the modes in large figures, the
/// spectrum, where to strike next. Everything goes by single keys too.
class BenchView {
public:
    void draw(const Sight& sight, plot::Box area);

private:
    void keys(const Sight& sight);
    void figures(const Sight& sight, plot::Box box) const;
    /// The names first: a figure under a wrong name misleads more than one that is spread.
    static const std::string& doubt_words(const bench::PlateView& plate);
    void doubt(const Sight& sight, const plot::Box& box) const;
    void spectrum(const Sight& sight, const plot::Box& box);
    void name_a_mode(const Sight& sight, plot::Box box);
    /// What a key or button said of the mode that is being named.
    struct Said {
        std::optional<int> name; // 0: none
        bool done = false;
    };
    Said naming_keys(const Sight& sight);
    void draw_stacked(const Sight& sight, plot::Box area);
    void stacked_figures(const Sight& sight, plot::Box area) const;
    /// The question and the buttons for its answers.
    void naming_bar(const Sight& sight, plot::Box box, Said& said) const;
    void stacked_naming(const Sight& sight, plot::Box box, Said& said) const;

    BenchSide side_;
    bool aside_ = false;                // stacked: the side is shown in place of the figures
    std::optional<std::size_t> naming_; // index of the mode that is being given a name
    FirstRun first_run_;
    ChartPane pane_;
};

} // namespace platewright::screen
