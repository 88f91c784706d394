#pragma once
#include <algorithm>
#include <vector>

namespace platewright::screen {

/// Keys that write nothing. What writes something comes as the letter it writes, so that a key is
/// where the maker's own keyboard has it.
enum class Key { f1, f2, f3, f4, f5, f6, f7, f11, escape, enter, backspace, left, right, up, down };

/// What was pressed since the last picture, each to be used once.
class Keys {
public:
    void press(Key key) { keys_.push_back(key); }
    void type(char32_t letter) { letters_.push_back(letter); }
    void clear() {
        keys_.clear();
        letters_.clear();
    }

    /// True, and the stroke is used up, when the key was pressed.
    bool take(Key key) { return take_from(keys_, key); }
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
};

} // namespace platewright::screen
