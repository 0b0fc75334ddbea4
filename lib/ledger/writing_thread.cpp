#include "ledger/writing_thread.hpp"

namespace tarewell::ledger {
namespace {

constexpr std::size_t most_waiting = 8;

} // namespace

writing_thread::writing_thread(entry_inserts& to) : to_{to}, thread_{[this] { run(); }} {}

writing_thread::~writing_thread() {
    {
        const std::lock_guard lock{guard_};
        ends_ = true;
    }
    changed_.notify_all();
    thread_.join();
}

std::unique_ptr<entry_batch> writing_thread::write(std::unique_ptr<entry_batch> batch) {
    std::unique_lock lock{guard_};
    changed_.wait(lock, [this] { return waiting_.size() < most_waiting || failure_; });
    if (failure_) std::rethrow_exception(failure_);
    waiting_.push_back(std::move(batch));
    std::unique_ptr<entry_batch> empty;
    if (!written_.empty()) {
        empty = std::move(written_.front());
        written_.pop_front();
    }
    lock.unlock();
    changed_.notify_all();
    if (!empty) return std::make_unique<entry_batch>();
    empty->clear();
    return empty;
}

void writing_thread::settle() {
    std::unique_lock lock{guard_};
    changed_.wait(lock, [this] { return (waiting_.empty() && !at_work_) || failure_; });
    if (failure_) std::rethrow_exception(failure_);
}

void writing_thread::run() {
    std::unique_lock lock{guard_};
    for (;;) {
        changed_.wait(lock, [this] { return ends_ || !waiting_.empty(); });
        if (ends_) return;
        auto batch = std::move(waiting_.front());
        waiting_.pop_front();
        at_work_ = true;
        lock.unlock();
        std::exception_ptr wrong;
        try {
            to_.write(*batch);
        } catch (...) {
            wrong = std::current_exception();
        }
        lock.lock();
        written_.push_back(std::move(batch));
        at_work_ = false;
        failure_ = wrong;
        // SQLite may have taken the transaction back: a batch after the broken one would stand outside of it.
        if (failure_) return changed_.notify_all();
        changed_.notify_all();
    }
}

} // namespace tarewell::ledger
