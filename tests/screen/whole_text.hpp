#pragma once
// Whether all that is written in a window is whole: not cut, not on other writing, not too small.
#include "headless_window.hpp"
#include "support/catch.hpp"

#include <array>

namespace platewright::test {

struct NativeWindow {
    float width, height;
    double text_size;
};

// The smallest lettering of all is a share of this of the small one (a note under a chart's mark).
inline constexpr double k_smallest_share = 0.85;

/// What is asked for: the size that a window of 1280 x 800 has, as many times as the window is
/// larger, times the maker's own wish; steps of a sixteenth may take off less than that.
inline double asked_scale(const NativeWindow& native_window) {
    const double larger = std::min({static_cast<double>(native_window.width) / 1280.0,
                                    static_cast<double>(native_window.height) / 800.0, 1.35});
    return larger * native_window.text_size - 1.0 / 16.0;
}

inline void check_whole(const HeadlessWindow& window, const NativeWindow& native_window) {
    const double width = static_cast<double>(native_window.width),
                 height = static_cast<double>(native_window.height);
    const double least = screen::k_small * asked_scale(native_window) * k_smallest_share;
    for (std::size_t i = 0; i < window.seen.size(); ++i) {
        const auto& a = window.seen[i];
        // What the maker or his sound system named may be longer than there is room for.
        const bool own = a.words.starts_with("Larkfield") || a.words.starts_with("ALSA");
        if (a.words.ends_with("\u2026") && !own) {
            FAIL_CHECK("cut: " << a.words);
        }
        if (a.cut_aside) {
            FAIL_CHECK("cut at its side: " << a.words);
        }
        if (a.height > 0.0 && a.height < least) {
            FAIL_CHECK("smaller than asked for: " << a.words << ", " << a.height << " px, not "
                                                  << least);
        }
        if (a.where.right > width + 1.0 || a.where.bottom > height + 1.0 || a.where.left < -1.0) {
            FAIL_CHECK("out of the window: " << a.words);
        }
        for (std::size_t j = i + 1; j < window.seen.size(); ++j) {
            const auto& b = window.seen[j];
            const double across =
                std::min(a.where.right, b.where.right) - std::max(a.where.left, b.where.left);
            const double down =
                std::min(a.where.bottom, b.where.bottom) - std::max(a.where.top, b.where.top);
            // Font boxes hold room above and below the letters: a fifth may be shared.
            const double lesser =
                std::min(a.where.bottom - a.where.top, b.where.bottom - b.where.top);
            if (across > 1.0 && down > 0.2 * lesser) {
                FAIL_CHECK("over one another: " << a.words << " | " << b.words);
            }
        }
    }
}

// The sizes are those of issue 5; the smallest window a view has all its parts beside each other
// in, and windows of other shapes, stand beside them.
inline constexpr std::array k_glasses{
    NativeWindow{1280, 800, 1.0},  NativeWindow{1280, 800, 1.5},  NativeWindow{1280, 800, 2.0},
    NativeWindow{1920, 1080, 1.0}, NativeWindow{1920, 1080, 1.5}, NativeWindow{1920, 1080, 2.0},
    NativeWindow{3840, 2160, 1.0}, NativeWindow{3840, 2160, 1.5}, NativeWindow{3840, 2160, 2.0},
    NativeWindow{1280, 800, 1.25}, NativeWindow{1024, 640, 1.0},  NativeWindow{1024, 768, 2.0},
    NativeWindow{1366, 768, 1.75}, NativeWindow{2560, 1440, 1.0}};

} // namespace platewright::test
