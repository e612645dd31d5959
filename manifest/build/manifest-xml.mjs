/** The add-in only (XML) manifest. Its schema fixes the order of the elements; see `check-xml.mjs`. */
import {
  ADDIN_COMMANDS,
  CELL_MENU,
  COMMAND_ICON_SIZES,
  DESCRIPTION,
  FILES,
  GROUP,
  iconFile,
  LOCALE,
  PROVIDER,
  REQUIREMENTS,
  WELCOME,
} from "../facts.mjs";

const ENTITIES = { "&": "&amp;", "<": "&lt;", ">": "&gt;", '"': "&quot;" };
const escaped = (text) => text.replace(/[&<>"]/g, (character) => ENTITIES[character]);

/** Joins parts under one another at the depth of the place they are put in. */
const lines = (parts, depth) => parts.join("\n").replaceAll("\n", `\n${" ".repeat(depth)}`);

const iconId = (name, size) => `Icon.${name}.${size}`;

const icon = (name) => `<Icon>
  ${lines(
    COMMAND_ICON_SIZES.map((size) => `<bt:Image size="${size}" resid="${iconId(name, size)}"/>`),
    2,
  )}
</Icon>`;

// The commands that open the pane bear one pane id, so that Excel opens one pane for all of them.
const action = ({ action: name, opensPane }) =>
  opensPane
    ? `<Action xsi:type="ShowTaskpane">
  <TaskpaneId>Pane</TaskpaneId>
  <SourceLocation resid="Page.Url"/>
</Action>`
    : `<Action xsi:type="ExecuteFunction">
  <FunctionName>${name}</FunctionName>
</Action>`;

/** What a button, a menu and a menu's item open with. */
const face = (label, tip, iconName) => `<Label resid="${label}"/>
<Supertip>
  <Title resid="${label}"/>
  <Description resid="${tip}"/>
</Supertip>
${icon(iconName)}`;

const commandParts = (command) => [
  face(`${command.action}.Label`, `${command.action}.Tip`, command.icon),
  action(command),
];

const button = (command) => `<Control xsi:type="Button" id="${command.action}Button">
  ${lines(commandParts(command), 2)}
</Control>`;

const item = (command) => `<Item id="${command.action}Item">
  ${lines(commandParts(command), 2)}
</Item>`;

// A cell's menu takes a single control, and a plain button in it once didn't show (office-js#2210): hence a submenu.
const cellMenu = `<Control xsi:type="Menu" id="${CELL_MENU.id}">
  ${lines([face("Name", "CellMenu.Tip", "icon")], 2)}
  <Items>
    ${lines(CELL_MENU.commands.map(item), 4)}
  </Items>
</Control>`;

const resource =
  (element) =>
  ([id, value]) =>
    `<bt:${element} id="${id}" DefaultValue="${escaped(value)}"/>`;

export function xmlManifest({ id, name, namespace, page, version, host }) {
  const at = (file) => `${host}/${file}`;
  const iconNames = ["icon", ...ADDIN_COMMANDS.map((command) => command.icon)];
  const images = iconNames.flatMap((name) =>
    COMMAND_ICON_SIZES.map((size) => [iconId(name, size), at(iconFile(name, size))]),
  );
  const urls = [
    ["Page.Url", at(page)],
    ["Script.Url", at(FILES.script)],
    ["Metadata.Url", at(FILES.metadata)],
    ["Help.Url", at(FILES.support)],
  ];
  const shortStrings = [
    ["Namespace", namespace],
    ["Name", name],
    ["Welcome.Title", WELCOME.title],
    ...ADDIN_COMMANDS.map(({ action, label }) => [`${action}.Label`, label]),
  ];
  const longStrings = [
    ["Welcome.Text", WELCOME.text(namespace)],
    ["CellMenu.Tip", CELL_MENU.tip],
    ...ADDIN_COMMANDS.map(({ action, tip }) => [`${action}.Tip`, tip]),
  ];
  const sets = REQUIREMENTS.map(({ name, version }) => `<Set Name="${name}" MinVersion="${version}"/>`);

  return `<?xml version="1.0" encoding="UTF-8"?>
<OfficeApp xmlns="http://schemas.microsoft.com/office/appforoffice/1.1"
           xmlns:xsi="http://www.w3.org/2001/XMLSchema-instance"
           xmlns:bt="http://schemas.microsoft.com/office/officeappbasictypes/1.0"
           xsi:type="TaskPaneApp">
  <Id>${id}</Id>
  <Version>${version}.0</Version>
  <ProviderName>${escaped(PROVIDER)}</ProviderName>
  <DefaultLocale>${LOCALE}</DefaultLocale>
  <DisplayName DefaultValue="${escaped(name)}"/>
  <Description DefaultValue="${escaped(DESCRIPTION)}"/>
  <IconUrl DefaultValue="${at(iconFile("icon", 32))}"/>
  <HighResolutionIconUrl DefaultValue="${at(iconFile("icon", 64))}"/>
  <SupportUrl DefaultValue="${at(FILES.support)}"/>
  <AppDomains>
    <AppDomain>${new URL(host).origin}</AppDomain>
  </AppDomains>
  <Hosts>
    <Host Name="Workbook"/>
  </Hosts>
  <Requirements>
    <Sets>
      ${lines(sets, 6)}
    </Sets>
  </Requirements>
  <DefaultSettings>
    <SourceLocation DefaultValue="${escaped(at(page))}"/>
  </DefaultSettings>
  <Permissions>ReadWriteDocument</Permissions>
  <VersionOverrides xmlns="http://schemas.microsoft.com/office/taskpaneappversionoverrides" xsi:type="VersionOverridesV1_0">
    <Hosts>
      <Host xsi:type="Workbook">
        <Runtimes>
          <Runtime resid="Page.Url" lifetime="long"/>
        </Runtimes>
        <AllFormFactors>
          <ExtensionPoint xsi:type="CustomFunctions">
            <Script>
              <SourceLocation resid="Script.Url"/>
            </Script>
            <Page>
              <SourceLocation resid="Page.Url"/>
            </Page>
            <Metadata>
              <SourceLocation resid="Metadata.Url"/>
            </Metadata>
            <Namespace resid="Namespace"/>
          </ExtensionPoint>
        </AllFormFactors>
        <DesktopFormFactor>
          <GetStarted>
            <Title resid="Welcome.Title"/>
            <Description resid="Welcome.Text"/>
            <LearnMoreUrl resid="Help.Url"/>
          </GetStarted>
          <FunctionFile resid="Page.Url"/>
          <ExtensionPoint xsi:type="PrimaryCommandSurface">
            <OfficeTab id="TabHome">
              <Group id="${GROUP.id}">
                <Label resid="Name"/>
                ${lines([icon("icon")], 16)}
                ${lines(GROUP.commands.map(button), 16)}
              </Group>
            </OfficeTab>
          </ExtensionPoint>
          <ExtensionPoint xsi:type="ContextMenu">
            <OfficeMenu id="ContextMenuCell">
              ${lines([cellMenu], 14)}
            </OfficeMenu>
          </ExtensionPoint>
        </DesktopFormFactor>
      </Host>
    </Hosts>
    <Resources>
      <bt:Images>
        ${lines(images.map(resource("Image")), 8)}
      </bt:Images>
      <bt:Urls>
        ${lines(urls.map(resource("Url")), 8)}
      </bt:Urls>
      <bt:ShortStrings>
        ${lines(shortStrings.map(resource("String")), 8)}
      </bt:ShortStrings>
      <bt:LongStrings>
        ${lines(longStrings.map(resource("String")), 8)}
      </bt:LongStrings>
    </Resources>
  </VersionOverrides>
</OfficeApp>
`;
}
