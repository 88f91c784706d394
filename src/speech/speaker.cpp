#include "speech/speaker.hpp"

#include "wording/say.hpp"

#include <atomic>
#include <chrono>
#include <condition_variable>
#include <libspeechd.h>
#include <mutex>
#include <optional>
#include <thread>
#include <utility>

namespace platewright::speech {
namespace {

using namespace std::chrono_literals;
constexpr auto k_longest = 30s; // a voice that never says that it has ended is not waited for

// The library's callbacks bear nothing of ours, so what they tell stands here. Messages rise in
// number.
std::atomic<std::size_t> ended_message{0};
void on_end(std::size_t message, std::size_t, SPDNotificationType) {
    std::size_t before = ended_message.load();
    while (before < message && !ended_message.compare_exchange_weak(before, message)) {
    }
}

} // namespace

struct Speaker::Worker {
    struct Closed {
        void operator()(SPDConnection* connection) const { spd_close(connection); }
    };
    struct Words {
        std::string text;
        wording::Language language;
        int rate;
    };

    std::mutex door;
    std::condition_variable_any knocked;
    std::optional<Words> next;
    std::string trouble;
    std::atomic<int> asked{0}, over{0}; ///< how many were asked for, and are over
    int told = 0;                       ///< the owner's own
    std::unique_ptr<SPDConnection, Closed> connection;
    std::jthread thread; // last: it uses all of the above

    Worker() : thread([this](const std::stop_token& stop) { run(stop); }) {}

    void run(const std::stop_token& stop) {
        while (!stop.stop_requested()) {
            std::optional<Words> words;
            {
                std::unique_lock lock(door);
                if (!knocked.wait(lock, stop, [this] { return next.has_value(); }))
                    return;
                words = std::exchange(next, {});
            }
            const int number = asked.load();
            if (!say(*words, stop)) {
                const std::lock_guard lock(door);
                trouble = wording::say("Nothing can be said aloud: Speech Dispatcher does not "
                                       "answer. Install speech-dispatcher and espeak-ng.");
            }
            if (over.load() < number)
                over = number;
        }
    }

    bool connect() {
        if (connection)
            return true;
        connection.reset(
            spd_open2("platewright", "bench", nullptr, SPD_MODE_THREADED, nullptr, 1, nullptr));
        if (!connection)
            return false;
        connection->callback_end = on_end;
        connection->callback_cancel = on_end;
        spd_set_notification_on(connection.get(), SPD_END);
        spd_set_notification_on(connection.get(), SPD_CANCEL);
        return true;
    }

    /// Waits until it has been said, unless something newer is to be.
    bool say(const Words& words, const std::stop_token& stop) {
        if (!connect())
            return false;
        spd_cancel(connection.get());
        spd_set_language(connection.get(), std::string(wording::to_code(words.language)).c_str());
        spd_set_voice_rate(connection.get(), words.rate);
        const int message = spd_say(connection.get(), SPD_TEXT, words.text.c_str());
        if (message <= 0) { // the server has gone: the next one starts it anew
            connection.reset();
            return false;
        }
        const auto until = std::chrono::steady_clock::now() + k_longest;
        while (ended_message.load() < static_cast<std::size_t>(message) && !stop.stop_requested() &&
               std::chrono::steady_clock::now() < until) {
            {
                const std::lock_guard lock(door);
                if (next)
                    break;
            }
            std::this_thread::sleep_for(20ms);
        }
        return true;
    }
};

Speaker::Speaker() = default;
Speaker::~Speaker() = default;

void Speaker::say(std::string words, wording::Language language, int rate) {
    if (!worker_)
        worker_ = std::make_unique<Worker>();
    {
        const std::lock_guard lock(worker_->door);
        worker_->next = Worker::Words{std::move(words), language, rate};
        ++worker_->asked;
    }
    worker_->knocked.notify_all();
}

bool Speaker::is_saying() const { return worker_ && worker_->over.load() < worker_->asked.load(); }

bool Speaker::has_ended() {
    if (!worker_ || is_saying() || worker_->told == worker_->asked.load())
        return false;
    worker_->told = worker_->asked.load();
    return true;
}

std::string Speaker::take_trouble() {
    if (!worker_)
        return {};
    const std::lock_guard lock(worker_->door);
    return std::exchange(worker_->trouble, {});
}

} // namespace platewright::speech
