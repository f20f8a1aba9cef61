//! Takes the tests out of a file's tree, so that nothing after needs to know of them.

use syn::punctuated::Punctuated;
use syn::visit_mut::{self, VisitMut};
use syn::{
    Attribute, Block, Expr, ExprMatch, ExprStruct, FieldsNamed, File, ImplItem, Item, ItemEnum,
    ItemImpl, ItemMod, ItemTrait, Meta, Stmt, Token, TraitItem,
};

/// The file without what stands there for tests alone.
pub fn without_tests(mut file: File) -> File {
    if for_tests(&file.attrs) {
        file.items.clear();
    }
    Tests.visit_file_mut(&mut file);
    file
}

struct Tests;

impl VisitMut for Tests {
    fn visit_file_mut(&mut self, file: &mut File) {
        file.items.retain(|item| !for_tests(item_attributes(item)));
        visit_mut::visit_file_mut(self, file);
    }

    fn visit_item_mod_mut(&mut self, module: &mut ItemMod) {
        if let Some((_, items)) = &mut module.content {
            items.retain(|item| !for_tests(item_attributes(item)));
        }
        visit_mut::visit_item_mod_mut(self, module);
    }

    fn visit_item_impl_mut(&mut self, item: &mut ItemImpl) {
        item.items.retain(|item| !for_tests(impl_attributes(item)));
        visit_mut::visit_item_impl_mut(self, item);
    }

    fn visit_item_trait_mut(&mut self, item: &mut ItemTrait) {
        item.items.retain(|item| !for_tests(trait_attributes(item)));
        visit_mut::visit_item_trait_mut(self, item);
    }

    fn visit_item_enum_mut(&mut self, item: &mut ItemEnum) {
        keep(&mut item.variants, |variant| &variant.attrs);
        visit_mut::visit_item_enum_mut(self, item);
    }

    fn visit_fields_named_mut(&mut self, fields: &mut FieldsNamed) {
        keep(&mut fields.named, |field| &field.attrs);
        visit_mut::visit_fields_named_mut(self, fields);
    }

    fn visit_expr_struct_mut(&mut self, value: &mut ExprStruct) {
        keep(&mut value.fields, |field| &field.attrs);
        visit_mut::visit_expr_struct_mut(self, value);
    }

    fn visit_expr_match_mut(&mut self, expression: &mut ExprMatch) {
        expression.arms.retain(|arm| !for_tests(&arm.attrs));
        visit_mut::visit_expr_match_mut(self, expression);
    }

    fn visit_block_mut(&mut self, block: &mut Block) {
        block
            .stmts
            .retain(|statement| !for_tests(statement_attributes(statement)));
        visit_mut::visit_block_mut(self, block);
    }
}

/// The attributes of whichever variant it is.
macro_rules! attributes {
    ($value:expr, $kind:ident: $($variant:ident)*) => {
        match $value {
            $($kind::$variant(inner) => &inner.attrs,)*
            _ => &[],
        }
    };
}

fn item_attributes(item: &Item) -> &[Attribute] {
    attributes!(item, Item: Const Enum ExternCrate Fn ForeignMod Impl Macro Mod Static Struct
        Trait TraitAlias Type Union Use)
}

fn impl_attributes(item: &ImplItem) -> &[Attribute] {
    attributes!(item, ImplItem: Const Fn Type Macro)
}

fn trait_attributes(item: &TraitItem) -> &[Attribute] {
    attributes!(item, TraitItem: Const Fn Type Macro)
}

fn statement_attributes(statement: &Stmt) -> &[Attribute] {
    match statement {
        Stmt::Local(local) => &local.attrs,
        Stmt::Item(item) => item_attributes(item),
        Stmt::Macro(call) => &call.attrs,
        Stmt::Expr(expression, _) => {
            attributes!(expression, Expr: Assign Binary Block Call ForLoop If Loop Macro Match
                MethodCall Return Try Unsafe While)
        }
    }
}

fn keep<T>(list: &mut Punctuated<T, Token![,]>, attributes: fn(&T) -> &[Attribute]) {
    let all = std::mem::take(list).into_iter();
    *list = all.filter(|one| !for_tests(attributes(one))).collect();
}

fn for_tests(attributes: &[Attribute]) -> bool {
    attributes.iter().any(|attribute| {
        let meta = &attribute.meta;
        meta.path().is_ident("test")
            || (meta.path().is_ident("cfg") && inner(meta, |all| all.iter().any(asks_for_test)))
    })
}

/// Whether a condition can hold in tests alone.
fn asks_for_test(condition: &Meta) -> bool {
    let path = condition.path();
    path.is_ident("test")
        || (path.is_ident("all") && inner(condition, |all| all.iter().any(asks_for_test)))
        || (path.is_ident("any") && inner(condition, |any| any.iter().all(asks_for_test)))
}

fn inner(meta: &Meta, holds: fn(&[Meta]) -> bool) -> bool {
    let Meta::List(list) = meta else {
        return false;
    };
    let parser = Punctuated::<Meta, Token![,]>::parse_terminated;
    list.parse_args_with(parser)
        .is_ok_and(|all| holds(&all.into_iter().collect::<Vec<_>>()))
}
