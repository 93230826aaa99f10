//! What a source file names and what texts it holds.

use std::collections::BTreeSet;

use proc_macro2::{TokenStream, TokenTree};
use syn::visit::{self, Visit};

/// What a source file says, outside its tests.
#[derive(Default)]
pub struct Said {
    module: Vec<String>,
    pub paths: BTreeSet<Vec<String>>,
    /// What is brought in by name, as it stands.
    pub brought: BTreeSet<Vec<String>>,
    pub literals: Vec<String>,
    /// What is only shown on (`pub use`) is passed over.
    pub skips_shown: bool,
    /// Functions that others may call to have a message read.
    pub readers: Vec<String>,
}

fn is_test_only(attributes: &[syn::Attribute]) -> bool {
    attributes.iter().any(|attribute| {
        attribute.path().is_ident("test")
            || attribute.path().is_ident("cfg")
                && matches!(&attribute.meta, syn::Meta::List(list) if list.tokens.to_string() == "test")
    })
}

impl Said {
    pub fn of(module: &[String]) -> Self {
        Self { module: module.to_vec(), ..Self::default() }
    }

    /// A path from the crate's root, or as it stands when it leads elsewhere.
    fn add(&mut self, path: Vec<String>) {
        let mut base = self.module.clone();
        let mut rest = path.as_slice();
        match rest.first().map(String::as_str) {
            Some("crate" | "noonwater") => (base, rest) = (Vec::new(), &rest[1..]),
            Some("self" | "super") => {
                while let Some(word @ ("self" | "super")) = rest.first().map(String::as_str) {
                    if word == "super" {
                        base.pop();
                    }
                    rest = &rest[1..];
                }
            }
            _ => {
                self.paths.insert(path);
                return;
            }
        }
        let inside = ["crate".to_owned()].into_iter().chain(base).chain(rest.iter().cloned());
        self.paths.insert(inside.collect());
    }

    fn add_use(&mut self, before: &mut Vec<String>, tree: &syn::UseTree) {
        match tree {
            syn::UseTree::Path(path) => {
                before.push(path.ident.to_string());
                self.add_use(before, &path.tree);
                before.pop();
            }
            syn::UseTree::Group(group) => group.items.iter().for_each(|item| self.add_use(before, item)),
            syn::UseTree::Name(name) => self.add_leaf(before, name.ident.to_string()),
            syn::UseTree::Rename(rename) => self.add_leaf(before, rename.ident.to_string()),
            syn::UseTree::Glob(_) => self.add_leaf(before, "*".to_owned()),
        }
    }

    fn add_leaf(&mut self, before: &[String], leaf: String) {
        let leaf = (leaf != "self" || before.is_empty()).then_some(leaf);
        let path: Vec<String> = before.iter().cloned().chain(leaf).collect();
        self.brought.insert(path.clone());
        self.add(path);
    }

    /// Whether a function gives a reading to whoever asks: to anybody from its own room, in others also to itself.
    fn note_reader(&mut self, visibility: &syn::Visibility, signature: &syn::Signature) {
        let syn::ReturnType::Type(_, gives) = &signature.output else { return };
        let mut inner = Said { module: self.module.clone(), ..Said::default() };
        inner.visit_type(gives);
        let is_reading = inner.paths.iter().any(|path| path.last().is_some_and(|last| last == "Reading"));
        let is_open = matches!(visibility, syn::Visibility::Public(_));
        if is_reading && (is_open || self.module.first().is_none_or(|room| room != "message")) {
            self.readers.push(format!("{} gives a reading", signature.ident));
        }
    }

    /// Paths and texts in what a macro is given, which the parser does not read.
    fn add_tokens(&mut self, tokens: TokenStream) {
        let mut path: Vec<String> = Vec::new();
        let mut colons = 0;
        let mut is_attribute = false;
        for token in tokens {
            // What is said about the code, `///` too, is an attribute here.
            if std::mem::take(&mut is_attribute) && matches!(token, TokenTree::Group(_)) {
                continue;
            }
            match token {
                TokenTree::Punct(punct) if punct.as_char() == '#' => is_attribute = true,
                TokenTree::Ident(ident) => {
                    if colons != 2 && !path.is_empty() {
                        self.add(std::mem::take(&mut path));
                    }
                    path.push(ident.to_string());
                    colons = 0;
                }
                TokenTree::Punct(punct) if punct.as_char() == ':' => colons += 1,
                other => {
                    if !path.is_empty() {
                        self.add(std::mem::take(&mut path));
                    }
                    colons = 0;
                    match other {
                        TokenTree::Group(group) => self.add_tokens(group.stream()),
                        TokenTree::Literal(literal) => {
                            if let Ok(text) = syn::parse_str::<syn::LitStr>(&literal.to_string()) {
                                self.literals.push(text.value());
                            }
                        }
                        _ => {}
                    }
                }
            }
        }
        if !path.is_empty() {
            self.add(path);
        }
    }
}

impl<'ast> Visit<'ast> for Said {
    fn visit_item_use(&mut self, item: &'ast syn::ItemUse) {
        let is_shown = !matches!(item.vis, syn::Visibility::Inherited);
        if !(is_test_only(&item.attrs) || is_shown && self.skips_shown) {
            self.add_use(&mut Vec::new(), &item.tree);
        }
    }

    fn visit_item_mod(&mut self, item: &'ast syn::ItemMod) {
        if !is_test_only(&item.attrs) {
            self.module.push(item.ident.to_string());
            visit::visit_item_mod(self, item);
            self.module.pop();
        }
    }

    fn visit_item_fn(&mut self, item: &'ast syn::ItemFn) {
        if !is_test_only(&item.attrs) {
            self.note_reader(&item.vis, &item.sig);
            visit::visit_item_fn(self, item);
        }
    }

    fn visit_impl_item_fn(&mut self, item: &'ast syn::ImplItemFn) {
        self.note_reader(&item.vis, &item.sig);
        visit::visit_impl_item_fn(self, item);
    }

    fn visit_item_impl(&mut self, item: &'ast syn::ItemImpl) {
        if !is_test_only(&item.attrs) {
            visit::visit_item_impl(self, item);
        }
    }

    fn visit_path(&mut self, path: &'ast syn::Path) {
        self.add(path.segments.iter().map(|segment| segment.ident.to_string()).collect());
        visit::visit_path(self, path);
    }

    fn visit_macro(&mut self, item: &'ast syn::Macro) {
        self.visit_path(&item.path);
        // What a fault says is for those who mend it.
        let is_fault = ["panic", "unreachable", "assert", "assert_eq", "assert_ne", "debug_assert"]
            .iter()
            .any(|name| item.path.is_ident(name));
        let texts = self.literals.len();
        self.add_tokens(item.tokens.clone());
        if is_fault {
            self.literals.truncate(texts);
        }
    }

    fn visit_expr_method_call(&mut self, call: &'ast syn::ExprMethodCall) {
        let texts = self.literals.len();
        visit::visit_expr_method_call(self, call);
        if call.method == "expect" {
            self.literals.truncate(texts);
        }
    }

    /// `pub(super)` says who may look, and names nothing.
    fn visit_vis_restricted(&mut self, _: &'ast syn::VisRestricted) {}

    fn visit_attribute(&mut self, _: &'ast syn::Attribute) {}

    fn visit_lit_str(&mut self, text: &'ast syn::LitStr) {
        self.literals.push(text.value());
    }
}

/// The modules of a file: src/lines/http/mod.rs is lines, http.
pub fn module_of(file: &str) -> Vec<String> {
    let inside = file.trim_start_matches("src/").trim_end_matches(".rs").trim_end_matches("/mod");
    inside.split('/').filter(|part| *part != "lib").map(str::to_owned).collect()
}
