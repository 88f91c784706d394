#pragma once
#include <condition_variable>
#include <functional>
#include <mutex>
#include <optional>
#include <thread>
#include <utility>

namespace platewright::bench {

/// A thread for what takes longer than the bench can wait, one thing at a time: what is asked
/// newest takes the place of what was being done. Threads: its own for `act`, which must not throw
/// and asks goes_on() whenever it might leave off; every call may come from any thread and does not
/// wait for the work. Ending waits for the act.
template <class Job>
class Aside {
public:
    explicit Aside(std::function<void(const Job&)> act)
        : act_(std::move(act)), thread_([this](const std::stop_token& stop) { run(stop); }) {}
    ~Aside() {
        call_off();
        thread_.request_stop();
    }
    Aside(const Aside&) = delete;
    Aside& operator=(const Aside&) = delete;

    void ask(Job job) {
        {
            const std::lock_guard lock(door_);
            next_ = std::move(job);
            called_off_ = true; // what is being done now
        }
        knocked_.notify_all();
    }
    void call_off() {
        const std::lock_guard lock(door_);
        called_off_ = true;
        next_.reset();
    }
    bool goes_on() const {
        const std::lock_guard lock(door_);
        return !called_off_;
    }

private:
    void run(const std::stop_token& stop) {
        while (!stop.stop_requested()) {
            std::optional<Job> job;
            {
                std::unique_lock lock(door_);
                knocked_.wait(lock, stop, [&] { return next_.has_value(); });
                if (stop.stop_requested())
                    return;
                job = std::exchange(next_, std::nullopt);
                called_off_ = false;
            }
            act_(*job);
        }
    }

    std::function<void(const Job&)> act_;
    mutable std::mutex door_;
    std::condition_variable_any knocked_;
    std::optional<Job> next_;
    bool called_off_ = false;
    std::jthread thread_; // last: it uses all of the above
};

} // namespace platewright::bench
