"""Marks a PDF/A-3a file as PDF/UA-1 too, inside the one RDF block that readers look at.

WeasyPrint writes the mark of one variant a file, and what it is handed in addition lands in a second RDF
root that most readers never see. So the block it makes is completed before it is written.
"""

from typing import Any

_END = b"</rdf:RDF>"

# PDF/A wants every property outside its own list described (ISO 19005-3, 6.6.2.3).
_UA_MARK = b"""\
<rdf:Description rdf:about="" xmlns:pdfaExtension="http://www.aiim.org/pdfa/ns/extension/"\
 xmlns:pdfaSchema="http://www.aiim.org/pdfa/ns/schema#"\
 xmlns:pdfaProperty="http://www.aiim.org/pdfa/ns/property#">\
<pdfaExtension:schemas><rdf:Bag><rdf:li rdf:parseType="Resource">\
<pdfaSchema:schema>PDF/UA identification</pdfaSchema:schema>\
<pdfaSchema:namespaceURI>http://www.aiim.org/pdfua/ns/id/</pdfaSchema:namespaceURI>\
<pdfaSchema:prefix>pdfuaid</pdfaSchema:prefix>\
<pdfaSchema:property><rdf:Seq><rdf:li rdf:parseType="Resource">\
<pdfaProperty:name>part</pdfaProperty:name>\
<pdfaProperty:valueType>Integer</pdfaProperty:valueType>\
<pdfaProperty:category>internal</pdfaProperty:category>\
<pdfaProperty:description>Part of ISO 14289 that the file follows</pdfaProperty:description>\
</rdf:li></rdf:Seq></pdfaSchema:property>\
</rdf:li></rdf:Bag></pdfaExtension:schemas></rdf:Description>\
<rdf:Description rdf:about="" xmlns:pdfuaid="http://www.aiim.org/pdfua/ns/id/">\
<pdfuaid:part>1</pdfuaid:part></rdf:Description>"""


def mark_accessible(metadata: Any) -> None:
    """Make the metadata of a laid-out document carry the PDF/UA-1 mark as well."""
    plain = metadata.generate_rdf_metadata

    def generate(variant: str, version: int, conformance: str) -> bytes:
        rdf: bytes = plain(variant, version, conformance)
        if rdf.count(_END) != 1:
            raise RuntimeError("The PDF library writes its metadata in another way than expected.")
        return rdf.replace(_END, _UA_MARK + _END)

    metadata.generate_rdf_metadata = generate
