#pragma once
#include <algorithm>
#include <utility>
#include <vector>

namespace platewright::screen {

/// Keys that write nothing. What writes something comes as the letter it writes, so that a key is
/// where the maker's own keyboard has it.
enum class Key {
    f1,
    f2,
    f3,
    f4,
    f5,
    f6,
    f7,
    f8,
    f9,
    f10,
    f11,
    undo, // Ctrl and the letter z
    pedal,
    escape,
    enter,
    backspace,
    left,
    right,
    up,
    down,
    page_up,
    page_down,
    home,
    end
};

/// What was pressed since the last picture, each to be used once.
class Keys {
public:
    void press(Key key) { keys_.push_back(key); }
    void type(char32_t letter) { letters_.push_back(letter); }
    /// For the picture after this one: what a view asks of another place.
    void type_next(char32_t letter) { next_.push_back(letter); }
    void clear() {
        keys_.clear();
        letters_ = std::exchange(next_, {});
    }

    /// True, and the stroke is used up, when the key was pressed.
    bool take(Key key) { return take_from(keys_, key); }
    /// A foot switch writes some key or other: true for any that is left over, and for those that
    /// nothing else here has.
    bool take_any() {
        bool any = !letters_.empty();
        for (const Key key : {Key::pedal, Key::page_up, Key::page_down, Key::home, Key::end}) {
            any |= take(key);
        }
        letters_.clear();
        return any;
    }
    /// All letters so far, in order; Enter stands at the end as a line break.
    std::vector<char32_t> take_letters() {
        std::vector<char32_t> all = std::exchange(letters_, {});
        if (take(Key::enter)) {
            all.push_back(U'\n');
        }
        return all;
    }
    /// The same for a letter, either case.
    bool take(char32_t letter) {
        const bool small = letter >= U'a' && letter <= U'z';
        return take_from(letters_, letter) ||
               (small && take_from(letters_, static_cast<char32_t>(letter - 32)));
    }

private:
    template <class T>
    static bool take_from(std::vector<T>& from, T wanted) {
        const auto found = std::find(from.begin(), from.end(), wanted);
        if (found == from.end()) {
            return false;
        }
        from.erase(found);
        return true;
    }
    std::vector<Key> keys_;
    std::vector<char32_t> letters_;
    std::vector<char32_t> next_;
};

} // namespace platewright::screen
