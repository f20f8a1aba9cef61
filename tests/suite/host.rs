//! A host for the browser's engine: what the page does, done by an interpreter.

use std::path::PathBuf;

use wasmi::{Engine, Instance, Memory, Module, Store, TypedFunc};

/// Half of the engine to put questions to: the committed one, unless the environment names
/// another folder.
pub fn engine_path(half: &str) -> PathBuf {
    let folder = match std::env::var_os("ENGINE_UNDER_TEST") {
        Some(folder) => folder.into(),
        None => crate::root().join("themes/engine"),
    };
    folder.join(format!("{half}.wasm.gz"))
}

/// One running engine.
pub struct Host {
    store: Store<()>,
    instance: Instance,
    memory: Memory,
    reserve: TypedFunc<u32, u32>,
    call: TypedFunc<(u32, u32), u64>,
    sources: TypedFunc<(), u64>,
}

impl Host {
    /// Starts the engine as a page would: without giving it anything to import.
    pub fn start(wasm: &[u8]) -> Self {
        let engine = Engine::default();
        let module = Module::new(&engine, wasm).expect("the engine is a WebAssembly module");
        assert_eq!(module.imports().count(), 0, "the engine imports nothing");
        let mut store = Store::new(&engine, ());
        let instance = Instance::new(&mut store, &module, &[]).expect("the engine starts");
        Self {
            memory: instance.get_memory(&store, "memory").expect("memory"),
            reserve: instance.get_typed_func(&store, "reserve").expect("reserve"),
            call: instance.get_typed_func(&store, "call").expect("call"),
            sources: instance.get_typed_func(&store, "sources").expect("sources"),
            instance,
            store,
        }
    }

    /// Hands data to the engine, by the name of the export that takes it.
    pub fn take(&mut self, export: &str, data: &[u8]) -> String {
        let take: TypedFunc<u32, u64> = self
            .instance
            .get_typed_func(&self.store, export)
            .expect("an export that takes data");
        let len = self.put(data).1;
        let answer = take.call(&mut self.store, len).expect("no trap");
        self.text(answer)
    }

    /// The engine's answer to a request of any bytes.
    pub fn call(&mut self, request: &[u8]) -> String {
        let (room, len) = self.put(request);
        self.call_at(room, len)
    }

    fn put(&mut self, bytes: &[u8]) -> (u32, u32) {
        let len = u32::try_from(bytes.len()).expect("under 4 GB");
        let room = self.reserve.call(&mut self.store, len).expect("reserve");
        self.memory
            .write(&mut self.store, room as usize, bytes)
            .expect("the reserved room is memory");
        (room, len)
    }

    /// The engine's answer to what stands at an address of the caller's choice.
    pub fn call_at(&mut self, address: u32, len: u32) -> String {
        let answer = self
            .call
            .call(&mut self.store, (address, len))
            .expect("no trap");
        self.text(answer)
    }

    /// The hash of the sources that the engine says it was built from.
    pub fn sources(&mut self) -> String {
        let answer = self.sources.call(&mut self.store, ()).expect("sources");
        self.text(answer)
    }

    fn text(&self, answer: u64) -> String {
        let start = (answer >> 32) as usize;
        let len = (answer & 0xffff_ffff) as usize;
        let bytes = self.memory.data(&self.store).get(start..start + len);
        let bytes = bytes.expect("the answer lies in memory");
        String::from_utf8(bytes.to_vec()).expect("the answer is UTF-8")
    }
}
