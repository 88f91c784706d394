#include "screen/in_turn.hpp"

#include <algorithm>
#include <utility>

namespace platewright::screen {
namespace {
constexpr int k_calls_a_field = 3;    // pictures that whoever calls the writing mark asks for
constexpr int k_till_it_is_there = 2; // of them, after the one that called it
} // namespace

void InTurn::add(Kind kind, std::function<int()> happens) {
    waiting_.push_back({kind, std::move(happens)});
}

void InTurn::pass_on() {
    while (!waiting_.empty() && (pictures_ == 0 || waiting_.front().kind == Kind::of_mouse)) {
        const Happening next = std::move(waiting_.front());
        waiting_.pop_front();
        const int pictures = next.happens();
        pictures_ = std::max(pictures_, pictures);
        if (pictures > 0) {
            return;
        }
    }
}

void InTurn::drawn(int wanted, bool is_writing) {
    pictures_ = std::max(0, pictures_ - 1);
    if (wanted >= k_calls_a_field && !is_writing) {
        pictures_ = std::max(pictures_, k_till_it_is_there);
    }
}

} // namespace platewright::screen
