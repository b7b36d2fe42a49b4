//! The logical structure (ISO 32000-1, 14.7 and 14.8): a tree of elements, each tied to the stretches of content
//! that show it, so that a reader aloud and a copier of tables find headings, rows and cells.

use lopdf::{Dictionary, Object, ObjectId, dictionary};

use super::{Shown, Stretches, count, text_string};
use crate::paper::{Element, Role};

/// The standard's name of a role.
pub(super) fn name(role: Role) -> &'static str {
    match role {
        Role::Section => "Sect",
        Role::Heading(1) => "H1",
        Role::Heading(2) => "H2",
        Role::Heading(_) => "H3",
        Role::Paragraph => "P",
        Role::List => "L",
        Role::ListItem => "LI",
        Role::Label => "Lbl",
        Role::ListBody => "LBody",
        Role::Table => "Table",
        Role::TableRow => "TR",
        Role::TableHeading | Role::RowHeading => "TH",
        Role::TableCell => "TD",
        Role::Figure => "Figure",
        Role::Caption => "Caption",
        Role::Division => "Div",
    }
}

/// Adds the structure. Elements that neither show nor hold anything are left out.
pub(super) fn add(file: &mut lopdf::Document, elements: &[Element], pages: &[Stretches], page_ids: &[ObjectId]) {
    let mut shown = Shown::new();
    for (page, stretches) in pages.iter().enumerate() {
        for (stretch, element) in stretches.iter().enumerate() {
            shown.entry(*element).or_default().push((page, stretch));
        }
    }
    let kept = kept(elements, &shown);
    let root = file.new_object_id();
    let document = file.new_object_id();
    let ids: Vec<Option<ObjectId>> = kept.iter().map(|kept| kept.then(|| file.new_object_id())).collect();
    let mut children: Vec<Vec<Object>> = vec![Vec::new(); elements.len()];
    let mut top = Vec::new();
    for (index, element) in elements.iter().enumerate() {
        let Some(id) = ids[index] else { continue };
        match element.parent {
            Some(parent) => children[parent.0].push(id.into()),
            None => top.push(id.into()),
        }
    }
    for (index, element) in elements.iter().enumerate() {
        let Some(id) = ids[index] else { continue };
        let parent = element.parent.and_then(|parent| ids[parent.0]).unwrap_or(document);
        let stretches = shown.get(&crate::paper::ElementId(index)).map_or(&[][..], Vec::as_slice);
        let entry = entry(element, parent, stretches, std::mem::take(&mut children[index]), page_ids);
        file.objects.insert(id, entry.into());
    }
    let document_entry =
        dictionary! { "Type" => "StructElem", "S" => "Document", "P" => root, "K" => Object::Array(top) };
    file.objects.insert(document, document_entry.into());
    let parents = parent_tree(pages, &ids);
    let tree = dictionary! {
        "Type" => "StructTreeRoot",
        "K" => document,
        "ParentTree" => dictionary! { "Nums" => parents },
        "ParentTreeNextKey" => count(pages.len()),
    };
    file.objects.insert(root, tree.into());
    for (index, id) in page_ids.iter().enumerate() {
        if let Ok(page) = file.get_object_mut(*id).and_then(Object::as_dict_mut) {
            page.set("StructParents", count(index));
            page.set("Tabs", "S");
        }
    }
    let catalog = file.catalog_mut().expect("the crate writes a catalogue");
    catalog.set("StructTreeRoot", root);
    catalog.set("MarkInfo", dictionary! { "Marked" => true });
}

/// Which elements show something, or hold one that does. A cell stays though it is empty, as long as its row does:
/// without it the columns would shift.
fn kept(elements: &[Element], shown: &Shown) -> Vec<bool> {
    let mut kept = vec![false; elements.len()];
    for index in shown.keys().map(|id| id.0) {
        let mut at = Some(index);
        while let Some(index) = at.filter(|index| !kept[*index]) {
            kept[index] = true;
            at = elements[index].parent.map(|parent| parent.0);
        }
    }
    for (index, element) in elements.iter().enumerate() {
        let is_cell = matches!(element.role, Role::TableCell | Role::TableHeading | Role::RowHeading);
        if is_cell && element.parent.is_some_and(|parent| kept[parent.0]) {
            kept[index] = true;
        }
    }
    kept
}

fn entry(
    element: &Element,
    parent: ObjectId,
    stretches: &[(usize, usize)],
    mut kids: Vec<Object>,
    page_ids: &[ObjectId],
) -> Dictionary {
    // Its type may be left out (table 323): there are thousands of them.
    let mut entry = dictionary! { "S" => name(element.role), "P" => parent };
    if let Some((home, _)) = stretches.first() {
        entry.set("Pg", page_ids[*home]);
        kids.extend(stretches.iter().map(|(page, stretch)| {
            if page == home {
                count(*stretch).into()
            } else {
                dictionary! { "Type" => "MCR", "Pg" => page_ids[*page], "MCID" => count(*stretch) }.into()
            }
        }));
    }
    if let Some(alternative) = &element.alternative {
        entry.set("Alt", text_string(alternative));
    }
    let scope = match element.role {
        Role::TableHeading => Some("Column"),
        Role::RowHeading => Some("Row"),
        _ => None,
    };
    if let Some(scope) = scope {
        entry.set("A", dictionary! { "O" => "Table", "Scope" => scope });
    }
    match kids.len() {
        0 => {}
        1 => entry.set("K", kids.remove(0)),
        _ => entry.set("K", kids),
    }
    entry
}

/// For each page, the elements of its stretches in order.
fn parent_tree(pages: &[Stretches], ids: &[Option<ObjectId>]) -> Vec<Object> {
    let of = |(page, stretches): (usize, &Stretches)| {
        let parents = stretches.iter().map(|element| ids[element.0].map_or(Object::Null, Object::Reference));
        [count(page).into(), Object::Array(parents.collect())]
    };
    pages.iter().enumerate().flat_map(of).collect()
}
