#pragma once
#include "wording/language.hpp"

#include <memory>
#include <optional>
#include <string>

namespace platewright::speech {

/// How it is said. Nothing for the language: what all else is said in.
struct Voice {
    std::optional<wording::Language> language;
    int rate = 0; ///< −100 to 100, as Speech Dispatcher counts it; 0: as the voice was set up
    bool operator==(const Voice&) const = default;
};

/// Says sentences through Speech Dispatcher (its client library, libspeechd), which leads them to
/// the voice that the maker has set up. The connection is made when something is said first, by a
/// thread of its own: a server that has to start, or hangs, holds nobody up. Threads: one owner.
/// One Speaker at a time in a program (the library's callbacks bear no name).
class Speaker {
public:
    Speaker();
    ~Speaker();
    Speaker(const Speaker&) = delete;
    Speaker& operator=(const Speaker&) = delete;

    /// Says these words, in place of what is being said; at once, does not wait.
    void say(std::string words, wording::Language language, int rate = 0);
    /// From say() until the voice has ended, or it is known that there is none.
    bool is_saying() const;
    /// True once for each say(), when it is over. Looked at often.
    bool has_ended();
    /// Why the last say() was not heard, in a sentence; empty where it was. Given once.
    std::string take_trouble();

private:
    struct Worker;
    std::unique_ptr<Worker> worker_;
};

} // namespace platewright::speech
