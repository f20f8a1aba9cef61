//! The engine's exports for a WebAssembly host: the page, or the tests' interpreter.
//!
//! The host asks `reserve` for room, writes a request there as UTF-8, then makes the `call`.
//! An answer comes back as its address in the upper 32 bits and its length in the lower ones,
//! and stays readable until the next `call`. Nothing is imported, so nothing outside is reached.
//!
//! `call` reads only the room that `reserve` gave out, which keeps it free of raw pointers;
//! the one unsafe thing in this file is to export symbols under names of our choice.
//! A panic, were there one, ends the instance: a host that sees a trap must start a new one.
#![allow(unsafe_code)]

use std::cell::RefCell;

use crate::Engine;

#[derive(Default)]
struct Instance {
    engine: Engine,
    request: Vec<u8>,
    answer: String,
}

thread_local! {
    static INSTANCE: RefCell<Instance> = RefCell::default();
}

/// Makes room for a request of `len` bytes; null when there is not that much memory.
#[unsafe(no_mangle)]
pub extern "C" fn reserve(len: usize) -> *mut u8 {
    INSTANCE.with_borrow_mut(|instance| {
        let request = &mut instance.request;
        request.clear();
        if request.try_reserve_exact(len).is_err() {
            return std::ptr::null_mut();
        }
        request.resize(len, 0);
        request.as_mut_ptr()
    })
}

/// Answers the request that stands in the reserved room.
#[unsafe(no_mangle)]
pub extern "C" fn call(ptr: *const u8, len: usize) -> u64 {
    INSTANCE.with_borrow_mut(|instance| {
        let Instance {
            engine,
            request,
            answer,
        } = instance;
        let room = request.as_ptr() == ptr;
        let text = request.get(..len).filter(|_| room).map(std::str::from_utf8);
        *answer = match text {
            Some(Ok(text)) => engine.call(text),
            Some(Err(_)) => r#"{"error":"the request is not UTF-8"}"#.to_owned(),
            None => r#"{"error":"the request is not in the reserved room"}"#.to_owned(),
        };
        address(answer)
    })
}

/// Takes the packed catalog that stands in the reserved room; answers like `call`.
#[cfg(feature = "calculators")]
#[unsafe(no_mangle)]
pub extern "C" fn take_catalog(len: usize) -> u64 {
    take(len, Engine::take_catalog)
}

/// Takes the packed drawings likewise.
#[cfg(feature = "calculators")]
#[unsafe(no_mangle)]
pub extern "C" fn take_drawings(len: usize) -> u64 {
    take(len, Engine::take_drawings)
}

/// Takes the search index that stands in the reserved room; answers like `call`.
#[cfg(feature = "search")]
#[unsafe(no_mangle)]
pub extern "C" fn take_index(len: usize) -> u64 {
    take(len, Engine::take_index)
}

/// Takes the texts of that index likewise.
#[cfg(feature = "search")]
#[unsafe(no_mangle)]
pub extern "C" fn take_texts(len: usize) -> u64 {
    take(len, Engine::take_texts)
}

#[cfg(any(feature = "calculators", feature = "search"))]
fn take(len: usize, by: fn(&mut Engine, &[u8]) -> String) -> u64 {
    INSTANCE.with_borrow_mut(|instance| {
        let Instance {
            engine,
            request,
            answer,
        } = instance;
        *answer = by(engine, request.get(..len).unwrap_or_default());
        address(answer)
    })
}

/// The hash of the sources that this engine was built from.
#[unsafe(no_mangle)]
pub extern "C" fn sources() -> u64 {
    address(crate::SOURCES)
}

fn address(text: &str) -> u64 {
    ((text.as_ptr() as u64) << 32) | text.len() as u64
}
